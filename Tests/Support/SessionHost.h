#pragma once

#include "Plugin/PlumblineProcessor.h"
#include "Support/TemporarySettings.h"

#include <functional>
#include <limits>

namespace plumbline::test
{

/** A host for a whole plugin instance, blocks and analysis pumped by hand. What leaves is kept, and comes back on
    both channels of the Return a usual block later, unless `wired` is false: then nothing comes back. */
class SessionHost
{
public:
    explicit SessionHost(double sampleRate = 48000.0, int usualFrames = 512)
        : rate(sampleRate), frames(usualFrames), line(static_cast<std::size_t>(usualFrames), 0.0f)
    {
        prepare(rate);
    }

    /** Begins with a pair described and standing there; the page of care not read. */
    void beginWith(const std::string& monitorName = "Heron 6")
    {
        session().begin();
        session().describeMonitor("", named(monitorName));
        session().standHere(monitorName + ", upright");
        session().setPlan({ -40.0, 1.0, 20.0, 20000.0 });
        step();
    }

    /** The same, and the page of care read. */
    void beginReady()
    {
        beginWith();
        session().careWasRead();
        step();
    }

    static Monitor named(const std::string& name)
    {
        Monitor monitor;
        monitor.name = name;
        return monitor;
    }

    Session& session() { return processor.session(); }

    std::shared_ptr<const SessionView> view() { return session().session(); }

    LiveState::Phase phase() { return session().live().phase; }

    void prepare(double sampleRate)
    {
        processor.setRateAndBufferSizeDetails(sampleRate, frames);
        processor.prepareToPlay(sampleRate, frames);
    }

    /** Takes the Return away, as a host without a side-chain does. */
    void disconnectReturn()
    {
        auto layout = processor.getBusesLayout();
        layout.inputBuses.getReference(1) = juce::AudioChannelSet::disabled();
        processor.setBusesLayout(layout);
        connected = false;
    }

    void block(int count)
    {
        for (int channel = 0; channel < 2; ++channel)
            std::fill_n(memory[static_cast<std::size_t>(channel)].begin(), count, mix);
        for (int i = 0; i < count; ++i)
        {
            const auto place = static_cast<std::size_t>(i);
            memory[2][place] = memory[3][place] = wired && place < line.size() ? line[place] : 0.0f;
        }
        line.erase(line.begin(), line.begin() + std::min<std::ptrdiff_t>(count, std::ssize(line)));
        if (disturb)
            disturb(memory[2].data(), count);
        float* channels[] = { memory[0].data(), memory[1].data(), memory[2].data(), memory[3].data() };
        juce::AudioBuffer<float> buffer(channels, connected ? 4 : 2, count);
        juce::MidiBuffer midi;
        if (aroundBlock)
            aroundBlock([&] { processor.processBlock(buffer, midi); });
        else
            processor.processBlock(buffer, midi);
        left.insert(left.end(), channels[0], channels[0] + count);
        right.insert(right.end(), channels[1], channels[1] + count);
        for (int i = 0; i < count; ++i)
            line.push_back(channels[0][i] + channels[1][i]);
    }

    void block() { block(nextFrames ? nextFrames() : frames); }

    void step() { processor.stepAnalysis(); }

    void pump(int blocks)
    {
        for (int i = 0; i < blocks; ++i)
        {
            step();
            block();
        }
        step();
    }

    /** Pumps until `done`, or a generous end. @return whether it came to be done */
    bool until(const std::function<bool()>& done, double mostSeconds = 30.0)
    {
        const auto end = left.size() + static_cast<std::size_t>(mostSeconds * rate);
        while (!done() && left.size() < end)
            pump(1);
        return done();
    }

    /** A take is asked for and pumped to its end, whatever it comes to. */
    void take()
    {
        session().startTake();
        finishTake();
    }

    void finishTake()
    {
        step();
        const auto before = number();
        int atRest = 0; // a start may wait some blocks for its turn
        until(
            [&]
            {
                atRest = underWay() ? 0 : atRest + 1;
                return number() != before || atRest > 20;
            });
        step();
    }

    bool underWay()
    {
        using Phase = LiveState::Phase;
        const auto now = phase();
        return now == Phase::preparing || now == Phase::taking || now == Phase::stopping ||
               now == Phase::analysing;
    }

    /** Pumps until the left sweep has been playing for a while. */
    bool runIntoTheSweep()
    {
        return until(
            [&] { return phase() == LiveState::Phase::taking && session().live().elapsedSeconds > 1.3; });
    }

    /** The host's parameter, let go and pressed again. */
    void trigger()
    {
        startParameter().setValueNotifyingHost(0.0f);
        block();
        startParameter().setValueNotifyingHost(1.0f);
        block();
        step();
    }

    juce::AudioProcessorParameter& startParameter() { return *processor.getParameters()[2]; }

    std::uint64_t number() const
    {
        const auto latest = processor.takeStatus().latest;
        return latest == nullptr ? 0 : latest->number;
    }

    std::vector<std::string> codes()
    {
        std::vector<std::string> said;
        for (const auto& message : view()->messages)
            said.push_back(message.problem.code);
        return said;
    }

    bool says(const std::string& code)
    {
        const auto said = codes();
        return std::find(said.begin(), said.end(), code) != said.end();
    }

    std::size_t played() const { return left.size(); }

    /** Largest |output| of both channels from a sample on. */
    float loudestFrom(std::size_t sample) const
    {
        float most = 0.0f;
        for (std::size_t i = sample; i < left.size(); ++i)
            most = std::max({ most, std::abs(left[i]), std::abs(right[i]) });
        return most;
    }

    std::string state()
    {
        juce::MemoryBlock kept;
        processor.getStateInformation(kept);
        return { static_cast<const char*>(kept.getData()), kept.getSize() };
    }

    void restore(const std::string& text)
    {
        processor.setStateInformation(text.data(), static_cast<int>(text.size()));
    }

    double rate;
    int frames;
    PlumblineProcessor processor{ AnalysisDrive::byHand };
    std::array<std::vector<float>, 4> memory{ std::vector<float>(8192), std::vector<float>(8192),
                                              std::vector<float>(8192), std::vector<float>(8192) };
    std::vector<float> line; ///< the wire: longer ones are for blocks of other sizes
    std::function<int()> nextFrames;
    std::function<void(float* microphone, int frames)> disturb;
    std::function<void(const std::function<void()>& process)> aroundBlock;
    float mix = 0.0f;
    bool wired = true, connected = true;
    std::vector<float> left, right;
};

/** Curves of the newest take of a stance; null if there is none. */
inline std::shared_ptr<const TakeCurves> newestOf(const SessionView& view, const std::string& stance)
{
    const auto found = view.trial.curves.find(stance);
    return found == view.trial.curves.end() ? nullptr : found->second.newest;
}

}
