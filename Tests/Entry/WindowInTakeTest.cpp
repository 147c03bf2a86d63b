// What could pass here for the wrong reason: windows that are never really made, or a take that is not under way
// when they are; so the editor's type and the take's place are looked at, and a window of a take that the user
// has started is seen to stop it.

#include "Editor/EditorFactory.h"
#include "Plugin/PlumblineProcessor.h"
#include "Support/TemporarySettings.h"

#include <catch2/catch.hpp>

using namespace plumbline;

namespace
{

/** A processor with its window's factory, a wire as its Return, and the analysis side driven by hand. */
class WindowHost
{
public:
    WindowHost()
    {
        processor.setRateAndBufferSizeDetails(rate, block);
        processor.prepareToPlay(rate, block);
        processor.session().begin();
        processor.session().careWasRead();
        processor.session().describeMonitor("", monitor());
        processor.session().standHere("Heron 6, upright");
        processor.stepAnalysis();
    }

    static Monitor monitor()
    {
        Monitor heron;
        heron.name = "Heron 6";
        return heron;
    }

    /** One block of a mix at 0.25; what left is kept. */
    void run()
    {
        for (int channel = 0; channel < 2; ++channel)
            for (int i = 0; i < block; ++i)
                buffer.setSample(channel, i, 0.25f);
        juce::MidiBuffer midi;
        processor.processBlock(buffer, midi);
        for (int i = 0; i < block; ++i)
            played.push_back(buffer.getSample(0, i));
        for (int channel = 0; channel < 2; ++channel)
            buffer.copyFrom(2 + channel, 0, buffer, 0, 0, block);
        processor.stepAnalysis();
    }

    void startByHost()
    {
        processor.session().letHostStart(true);
        processor.stepAnalysis();
        start().setValueNotifyingHost(0.0f);
        for (int i = 0; i < 20 && phase() != LiveState::Phase::armed; ++i)
            run();
        REQUIRE(phase() == LiveState::Phase::armed);
        start().setValueNotifyingHost(1.0f);
        run();
    }

    juce::AudioProcessorParameter& start() { return *processor.getParameters()[2]; }

    LiveState::Phase phase() { return processor.session().live().phase; }

    static constexpr double rate = 48000.0;
    static constexpr int block = 512;
    test::TemporarySettings settings;
    PlumblineProcessor processor{ AnalysisDrive::byHand, makeEditor };
    juce::AudioBuffer<float> buffer{ 4, block };
    std::vector<float> played;
};

std::vector<float> takeOfTheHost(bool withWindows)
{
    WindowHost host;
    host.startByHost();
    constexpr int blocks = 600; // into the left sweep
    for (int i = 0; i < blocks; ++i)
    {
        if (withWindows && i % 12 == 6) // fifty times
        {
            std::unique_ptr<juce::AudioProcessorEditor> window(host.processor.createEditorIfNeeded());
            REQUIRE(window != nullptr);
            REQUIRE(window->getWidth() > 0);
            static_cast<void>(window->createComponentSnapshot(window->getLocalBounds()));
            host.run();
            host.processor.editorBeingDeleted(window.get());
        }
        else
            host.run();
    }
    CHECK(host.phase() == LiveState::Phase::taking);
    host.processor.session().stop();
    host.run();
    return host.played;
}

}

TEST_CASE("Fifty windows opened and closed in the host's take leave every sample as it is without them")
{
    const juce::ScopedJuceInitialiser_GUI messages;
    const auto with = takeOfTheHost(true), without = takeOfTheHost(false);
    CHECK(with == without);
    CHECK(*std::max_element(without.begin() + 100000, without.end()) > 0.005f); // the sweep was sounding
}

TEST_CASE("Closing the window stops the take that the user has started, and says so")
{
    const juce::ScopedJuceInitialiser_GUI messages;
    WindowHost host;
    std::unique_ptr<juce::AudioProcessorEditor> window(host.processor.createEditorIfNeeded());
    REQUIRE(window != nullptr);
    host.processor.session().startTake();
    for (int i = 0; i < 200; ++i)
        host.run();
    REQUIRE(host.phase() == LiveState::Phase::taking);
    host.processor.editorBeingDeleted(window.get());
    window.reset();
    for (int i = 0; i < 4; ++i)
        host.run();
    const auto messagesSaid = host.processor.session().session()->messages;
    REQUIRE(messagesSaid.size() == 1);
    CHECK(messagesSaid[0].problem.code == "window-closed");
    CHECK(host.played.back() == 0.0f);
}
