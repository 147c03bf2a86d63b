#pragma once

#include "Plugin/PlumblineProcessor.h"

#include <functional>

namespace plumbline::test
{

/** A host for the processor, driven by hand: a wire from output to Return, a block late, or whatever `room`
    makes of it. */
class LoopHost
{
public:
    /** Left, right played; microphone and reference to fill. */
    using Room =
        std::function<void(const juce::AudioBuffer<float>& played, float* microphone, float* reference)>;

    explicit LoopHost(double sampleRate = 48000.0, int blockSize = 512)
        : rate(sampleRate), buffer(4, blockSize)
    {
        processor.setRateAndBufferSizeDetails(rate, blockSize);
        processor.prepareToPlay(rate, blockSize);
        room = [](const juce::AudioBuffer<float>& played, float* microphone, float* reference)
        {
            for (int i = 0; i < played.getNumSamples(); ++i)
                microphone[i] = reference[i] = played.getSample(0, i) + played.getSample(1, i);
        };
        buffer.clear();
    }

    void block()
    {
        for (int channel = 0; channel < 2; ++channel)
            for (int i = 0; i < buffer.getNumSamples(); ++i)
                buffer.setSample(channel, i, mix);
        if (disturb)
            disturb(buffer.getWritePointer(2), buffer.getNumSamples());
        juce::MidiBuffer midi;
        processor.processBlock(buffer, midi);
        loudest = std::max({ 0.0f, buffer.getMagnitude(0, 0, buffer.getNumSamples()),
                             buffer.getMagnitude(1, 0, buffer.getNumSamples()) });
        room(buffer, buffer.getWritePointer(2), buffer.getWritePointer(3));
    }

    TakeRequest request(double seconds = 1.0) const
    {
        TakeRequest wanted;
        wanted.stimulus.seconds = seconds;
        wanted.stimulus.leadInSeconds = 0.5;
        return wanted;
    }

    /** Blocks and steps until a new result is published. */
    std::shared_ptr<const TakeResult> takeResult(int mostBlocks = 20000)
    {
        const auto before = number();
        for (int i = 0; i < mostBlocks && number() == before; ++i)
        {
            processor.stepAnalysis();
            if (number() == before)
                block();
        }
        return processor.takeStatus().latest;
    }

    /** Blocks until the left sweep has been playing for a while. */
    bool runIntoTheSweep()
    {
        for (int i = 0; i < 20000; ++i)
        {
            processor.stepAnalysis();
            if (processor.takeStatus().phase == TakePhase::taking && processor.takeStatus().progress > 0.2)
                return true;
            block();
        }
        return false;
    }

    std::uint64_t number() const
    {
        const auto latest = processor.takeStatus().latest;
        return latest == nullptr ? 0 : latest->number;
    }

    double rate;
    PlumblineProcessor processor{ AnalysisDrive::byHand };
    juce::AudioBuffer<float> buffer;
    Room room;
    std::function<void(float* microphone, int frames)> disturb;
    float mix = 0.0f, loudest = 0.0f;
};

}
