// What could pass here for the wrong reason: a flat curve because nothing was measured; so level and delay of
// the wire are changed and must be found.

#include "Support/LoopHost.h"

#include <catch2/catch.hpp>
#include <cmath>

using namespace plumbline;
using test::LoopHost;

TEST_CASE("A wire from output to Return reads flat, with its level and its delay")
{
    for (const double rate : { 44100.0, 48000.0, 96000.0, 192000.0 })
    {
        LoopHost host(rate);
        host.room = [line = std::vector<float>(37, 0.0f)](const juce::AudioBuffer<float>& played,
                                                          float* microphone, float* reference) mutable
        {
            for (int i = 0; i < played.getNumSamples(); ++i)
            {
                reference[i] = played.getSample(0, i) + played.getSample(1, i);
                line.push_back(0.5f * reference[i]);
                microphone[i] = line[line.size() - 38];
            }
        };
        REQUIRE_FALSE(host.processor.requestTake(host.request()));
        const auto result = host.takeResult();
        REQUIRE(result != nullptr);
        REQUIRE_FALSE(result->problem);
        for (const auto* side : { &result->analysis->left, &*result->analysis->right })
        {
            CHECK(*side->travelTimeSeconds * rate == Approx(37.0).margin(0.001));
            CHECK(side->polarity == 1);
            double worst = 0.0;
            for (std::size_t i = 0; i < side->response.levelDb.size(); ++i)
                worst = std::max(worst, std::abs(side->response.levelDb[i] + 20.0 * std::log10(2.0)));
            CHECK(worst < 0.05);
        }
    }
}

TEST_CASE("Without a loopback the wire's whole delay is found, and said to be without reference")
{
    LoopHost host(48000.0, 256);
    host.room = [](const juce::AudioBuffer<float>& played, float* microphone, float* reference)
    {
        for (int i = 0; i < played.getNumSamples(); ++i)
        {
            microphone[i] = -(played.getSample(0, i) + played.getSample(1, i));
            reference[i] = 0.0f;
        }
    };
    REQUIRE_FALSE(host.processor.requestTake(host.request()));
    const auto result = host.takeResult();
    REQUIRE(result->analysis != nullptr);
    CHECK(result->capture->reference.empty());
    REQUIRE(result->analysis->faults.size() == 1);
    CHECK(result->analysis->faults.front().code == "no-reference");
    CHECK(*result->analysis->left.travelTimeSeconds * 48000.0 ==
          Approx(256.0).margin(0.001)); // a block late, as in a host
    CHECK(result->analysis->left.polarity == -1);
}

TEST_CASE("The mix passes untouched before and after a take, and is out of the capture")
{
    LoopHost host;
    host.mix = 0.25f;
    host.block();
    CHECK(host.buffer.getSample(0, 511) == 0.25f);
    REQUIRE_FALSE(host.processor.requestTake(host.request()));
    const auto result = host.takeResult();
    REQUIRE(result->analysis != nullptr);
    CHECK(result->analysis->left.response.levelDb[240] == Approx(0.0).margin(0.05));
    for (int i = 0; i < 100; ++i)
        host.block();
    CHECK(host.buffer.getSample(1, 511) == 0.25f);
}

TEST_CASE("The Return never reaches the output")
{
    LoopHost host;
    host.room = [](const juce::AudioBuffer<float>& played, float* microphone, float* reference)
    {
        std::fill_n(microphone, played.getNumSamples(), 0.7f);
        std::fill_n(reference, played.getNumSamples(), 0.7f);
    };
    for (int i = 0; i < 10; ++i)
    {
        host.block();
        CHECK(host.loudest == 0.0f);
    }
}

TEST_CASE("Main is mono or stereo, alike in and out; the Return has two channels, one or none")
{
    PlumblineProcessor processor(AnalysisDrive::byHand);
    using Set = juce::AudioChannelSet;
    auto supports = [&](Set in, Set out, Set returned)
    {
        juce::AudioProcessor::BusesLayout layout;
        layout.inputBuses = { in, returned };
        layout.outputBuses = { out };
        return processor.checkBusesLayoutSupported(layout);
    };
    CHECK(supports(Set::stereo(), Set::stereo(), Set::stereo()));
    CHECK(supports(Set::stereo(), Set::stereo(), Set::disabled()));
    CHECK(supports(Set::stereo(), Set::stereo(), Set::mono()));
    CHECK(supports(Set::mono(), Set::mono(), Set::stereo()));
    CHECK_FALSE(supports(Set::mono(), Set::stereo(), Set::stereo()));
    CHECK_FALSE(supports(Set::create5point1(), Set::create5point1(), Set::stereo()));
    CHECK_FALSE(supports(Set::stereo(), Set::stereo(), Set::create5point1()));
}

TEST_CASE("A take works in mono, with a Return of one channel and blocks of every size")
{
    PlumblineProcessor processor(AnalysisDrive::byHand);
    juce::AudioProcessor::BusesLayout layout;
    layout.inputBuses = { juce::AudioChannelSet::mono(), juce::AudioChannelSet::mono() };
    layout.outputBuses = { juce::AudioChannelSet::mono() };
    REQUIRE(processor.setBusesLayout(layout));
    processor.setRateAndBufferSizeDetails(48000.0, 8192);
    processor.prepareToPlay(48000.0, 8192);
    TakeRequest request;
    request.stimulus.seconds = 1.0;
    request.stimulus.pair = false;
    REQUIRE_FALSE(processor.requestTake(request));
    processor.stepAnalysis();
    std::vector<float> line(8192, 0.0f); // the wire's delay: the largest block
    juce::MidiBuffer midi;
    const int sizes[] = { 1, 0, 64, 8192, 333, 512 };
    for (int i = 0; processor.takeStatus().latest == nullptr && i < 4000; ++i)
    {
        const int frames = sizes[i % 6];
        juce::AudioBuffer<float> buffer(2, frames);
        buffer.clear();
        for (int n = 0; n < frames; ++n)
            buffer.setSample(1, n, line[static_cast<std::size_t>(n)]);
        processor.processBlock(buffer, midi);
        line.insert(line.end(), buffer.getReadPointer(0), buffer.getReadPointer(0) + frames);
        line.erase(line.begin(), line.begin() + frames);
        processor.stepAnalysis();
    }
    const auto result = processor.takeStatus().latest;
    REQUIRE(result != nullptr);
    REQUIRE(result->analysis != nullptr);
    CHECK(*result->analysis->left.travelTimeSeconds * 48000.0 == Approx(8192.0).margin(0.001));
    CHECK_FALSE(result->analysis->right);
}

TEST_CASE("Making, asking for state and releasing twice need no audio")
{
    PlumblineProcessor processor(AnalysisDrive::byHand);
    juce::MemoryBlock state;
    processor.getStateInformation(state);
    processor.releaseResources();
    processor.releaseResources();
    CHECK(state.getSize() > 0);
    CHECK(state.getSize() < 256 * 1024);
}
