#include "Entry/DeviceToReturn.h"

namespace plumbline
{

namespace
{
constexpr int returnBus = 1;
constexpr int mostReturnChannels = 2;
}

DeviceToReturn::DeviceToReturn(juce::AudioProcessor& toDrive) : processor(toDrive)
{
}

void DeviceToReturn::audioDeviceAboutToStart(juce::AudioIODevice* device)
{
    prepare(device->getCurrentSampleRate(), device->getCurrentBufferSizeSamples(),
            device->getActiveInputChannels().countNumberOfSetBits());
}

void DeviceToReturn::audioDeviceStopped()
{
    processor.releaseResources();
}

void DeviceToReturn::prepare(double sampleRateHz, int blockSize, int inputs)
{
    const int length = std::max(1, blockSize);
    auto layout = processor.getBusesLayout();
    layout.inputBuses.getReference(returnBus) =
        inputs <= 0 ? juce::AudioChannelSet::disabled()
                    : juce::AudioChannelSet::canonicalChannelSet(std::min(mostReturnChannels, inputs));
    processor.releaseResources();
    processor.setBusesLayout(layout);
    processor.setRateAndBufferSizeDetails(sampleRateHz, length);
    processor.prepareToPlay(sampleRateHz, length);
    channels.setSize(std::max(processor.getTotalNumInputChannels(), processor.getTotalNumOutputChannels()),
                     length);
}

void DeviceToReturn::audioDeviceIOCallbackWithContext(const float* const* inputs, int inputCount,
                                                      float* const* outputs, int outputCount, int frames,
                                                      const juce::AudioIODeviceCallbackContext&)
{
    process(inputs, inputCount, outputs, outputCount, frames);
}

void DeviceToReturn::process(const float* const* inputs, int inputCount, float* const* outputs,
                             int outputCount, int frames)
{
    for (int done = 0; done < frames;)
    {
        const int piece = std::min(frames - done, channels.getNumSamples());
        processPiece(inputs, inputCount, outputs, outputCount, done, piece);
        done += piece;
    }
}

void DeviceToReturn::processPiece(const float* const* inputs, int inputCount, float* const* outputs,
                                  int outputCount, int from, int frames)
{
    juce::AudioBuffer<float> block(channels.getArrayOfWritePointers(), channels.getNumChannels(), frames);
    block.clear();
    const int returned = std::min(inputCount, processor.getChannelCountOfBus(true, returnBus));
    for (int c = 0; c < returned; ++c)
        if (inputs[c] != nullptr)
            block.copyFrom(processor.getChannelIndexInProcessBlockBuffer(true, returnBus, c), 0,
                           inputs[c] + from, frames);
    bool processed = false;
    {
        const juce::ScopedLock lock(processor.getCallbackLock());
        if (!processor.isSuspended())
        {
            processor.processBlock(block, midi);
            processed = true;
        }
    }
    const int played = processed ? processor.getMainBusNumOutputChannels() : 0;
    for (int c = 0; c < outputCount; ++c)
    {
        if (outputs[c] == nullptr)
            continue;
        if (c < played)
            juce::FloatVectorOperations::copy(outputs[c] + from, block.getReadPointer(c), frames);
        else
            juce::FloatVectorOperations::clear(outputs[c] + from, frames);
    }
}

}
