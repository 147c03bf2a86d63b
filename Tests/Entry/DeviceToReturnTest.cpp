// What could pass here for the wrong reason: a processor that is never called (so it writes something that is looked
// for), an output that is silent because nothing was written (so the device's buffers begin full of rubbish), and a
// block that is cut but not put together again (so every sample has a value of its own).
#include "Entry/DeviceToReturn.h"

#include <catch2/catch.hpp>
#include <vector>

namespace
{

using Set = juce::AudioChannelSet;

/** Plays a ramp that counts on from block to block, and remembers what it was given. */
class Counter final : public juce::AudioProcessor
{
public:
    Counter()
        : juce::AudioProcessor(BusesProperties()
                                   .withInput("Main", Set::stereo(), true)
                                   .withOutput("Main", Set::stereo(), true)
                                   .withInput("Return", Set::stereo(), true))
    {
    }

    void prepareToPlay(double rate, int block) override
    {
        ++prepared;
        rateHz = rate;
        longest = block;
    }

    void releaseResources() override {}

    using juce::AudioProcessor::processBlock;

    void processBlock(juce::AudioBuffer<float>& buffer, juce::MidiBuffer&) override
    {
        blocks.push_back(buffer.getNumSamples());
        const auto returned = getBusBuffer(buffer, true, 1);
        auto main = getBusBuffer(buffer, true, 0);
        for (int i = 0; i < buffer.getNumSamples(); ++i)
        {
            mainPeak = std::max({ mainPeak, std::abs(main.getSample(0, i)), std::abs(main.getSample(1, i)) });
            for (std::size_t c = 0; c < 2; ++c)
                if (static_cast<int>(c) < returned.getNumChannels())
                    heard[c].push_back(returned.getSample(static_cast<int>(c), i));
        }
        auto out = getBusBuffer(buffer, false, 0);
        for (int i = 0; i < buffer.getNumSamples(); ++i, ++played)
        {
            out.setSample(0, i, static_cast<float>(played));
            out.setSample(1, i, -static_cast<float>(played));
        }
    }

    bool isBusesLayoutSupported(const BusesLayout& layout) const override
    {
        return layout.getMainOutputChannelSet() == Set::stereo();
    }

    const juce::String getName() const override { return "Counter"; }

    double getTailLengthSeconds() const override { return 0.0; }

    bool acceptsMidi() const override { return false; }

    bool producesMidi() const override { return false; }

    juce::AudioProcessorEditor* createEditor() override { return nullptr; }

    bool hasEditor() const override { return false; }

    int getNumPrograms() override { return 1; }

    int getCurrentProgram() override { return 0; }

    void setCurrentProgram(int) override {}

    const juce::String getProgramName(int) override { return {}; }

    void changeProgramName(int, const juce::String&) override {}

    void getStateInformation(juce::MemoryBlock&) override {}

    void setStateInformation(const void*, int) override {}

    int prepared = 0, longest = 0, played = 0;
    double rateHz = 0.0;
    float mainPeak = 0.0f;
    std::vector<int> blocks;
    std::vector<float> heard[2];
};

/** A device: numbered input samples, and outputs full of rubbish. */
struct Device
{
    explicit Device(int inputs, int outputs, int frames)
        : in(static_cast<std::size_t>(inputs)), out(static_cast<std::size_t>(outputs))
    {
        for (std::size_t c = 0; c < in.size(); ++c)
            for (int i = 0; i < frames; ++i)
                in[c].push_back(static_cast<float>(1000 * (c + 1)) + static_cast<float>(i));
        for (auto& channel : out)
            channel.assign(static_cast<std::size_t>(frames), 99.0f);
        for (auto& channel : in)
            inputs_.push_back(channel.data());
        for (auto& channel : out)
            outputs_.push_back(channel.data());
    }

    void run(plumbline::DeviceToReturn& driver, int frames)
    {
        driver.process(inputs_.data(), static_cast<int>(in.size()), outputs_.data(),
                       static_cast<int>(out.size()), frames);
    }

    std::vector<std::vector<float>> in, out;
    std::vector<const float*> inputs_;
    std::vector<float*> outputs_;
};

}

TEST_CASE("The device's first inputs are the Return, the main input is silence, and no input is ever played")
{
    Counter processor;
    plumbline::DeviceToReturn driver(processor);
    Device device(3, 4, 64);
    driver.prepare(96000.0, 64, 3);
    device.run(driver, 64);
    CHECK(processor.rateHz == 96000.0);
    CHECK(processor.heard[0] == device.in[0]);
    CHECK(processor.heard[1] == device.in[1]);
    CHECK(processor.mainPeak == 0.0f);
    for (int i = 0; i < 64; ++i)
    {
        const auto at = static_cast<std::size_t>(i);
        CHECK(device.out[0][at] == static_cast<float>(i));
        CHECK(device.out[1][at] == -static_cast<float>(i));
        CHECK(device.out[2][at] == 0.0f);
        CHECK(device.out[3][at] == 0.0f);
    }
}

TEST_CASE("The Return has as many channels as the device has active inputs: two, one or none")
{
    const auto inputs = GENERATE(0, 1, 2, 8);
    Counter processor;
    plumbline::DeviceToReturn driver(processor);
    driver.prepare(48000.0, 32, inputs);
    CHECK(processor.getChannelCountOfBus(true, 1) == std::min(inputs, 2));
    Device device(inputs, 2, 32);
    device.run(driver, 32);
    CHECK(processor.heard[0].size() == (inputs >= 1 ? 32u : 0u));
    CHECK(processor.heard[1].size() == (inputs >= 2 ? 32u : 0u));
    CHECK(device.out[0].back() == 31.0f);
}

TEST_CASE(
    "Blocks longer than announced are handed over in pieces, without losing a sample; empty ones are none")
{
    const auto frames = GENERATE(0, 1, 63, 64, 65, 1000, 8192);
    Counter processor;
    plumbline::DeviceToReturn driver(processor);
    driver.prepare(44100.0, 64, 2);
    Device device(2, 2, frames);
    device.run(driver, frames);
    for (const int block : processor.blocks)
        CHECK((block >= 1 && block <= 64));
    CHECK(processor.heard[0] == device.in[0]);
    CHECK(processor.heard[1] == device.in[1]);
    for (int i = 0; i < frames; ++i)
        REQUIRE(device.out[0][static_cast<std::size_t>(i)] == static_cast<float>(i));
}

TEST_CASE("A suspended processor is not called and the output is silent")
{
    Counter processor;
    plumbline::DeviceToReturn driver(processor);
    driver.prepare(48000.0, 64, 2);
    processor.suspendProcessing(true);
    Device device(2, 2, 64);
    device.run(driver, 64);
    CHECK(processor.blocks.empty());
    CHECK(device.out[0] == std::vector<float>(64, 0.0f));
}

TEST_CASE("Channels that the device does not give are silent, and those it does not want are left out")
{
    Counter processor;
    plumbline::DeviceToReturn driver(processor);
    driver.prepare(48000.0, 16, 2);
    Device device(2, 2, 16);
    device.inputs_[0] = nullptr;
    device.outputs_[1] = nullptr;
    device.run(driver, 16);
    CHECK(processor.heard[0] == std::vector<float>(16, 0.0f));
    CHECK(processor.heard[1] == device.in[1]);
    CHECK(device.out[0].back() == 15.0f);
    CHECK(device.out[1].back() == 99.0f);
}
