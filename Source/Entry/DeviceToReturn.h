#pragma once

#include <juce_audio_devices/juce_audio_devices.h>
#include <juce_audio_processors/juce_audio_processors.h>

namespace plumbline
{

/** Between the audio device and the processor in our own application: the device's first inputs are the Return
    and reach nothing else; the main input is silence.

    The Return has as many channels as the device has active inputs: two, one or none. */
class DeviceToReturn final : public juce::AudioIODeviceCallback
{
public:
    /** @param processor has two input buses, the second being the Return; outlives this */
    explicit DeviceToReturn(juce::AudioProcessor& processor);

    /** [message] Sets the layout and prepares. The audio callback is not running. */
    void audioDeviceAboutToStart(juce::AudioIODevice* device) override;
    /** [audio] Blocks longer than were announced are handed over in pieces. */
    void audioDeviceIOCallbackWithContext(const float* const* inputs, int inputCount, float* const* outputs,
                                          int outputCount, int frames,
                                          const juce::AudioIODeviceCallbackContext& context) override;
    /** [message] */
    void audioDeviceStopped() override;

    /** [any but audio] What audioDeviceAboutToStart does, for a stream without a device.
        @param inputs active inputs
        @param blockSize the longest block that is to be expected; at least 1 */
    void prepare(double sampleRateHz, int blockSize, int inputs);
    /** [audio, prepared] */
    void process(const float* const* inputs, int inputCount, float* const* outputs, int outputCount,
                 int frames);

private:
    void processPiece(const float* const* inputs, int inputCount, float* const* outputs, int outputCount,
                      int from, int frames);

    juce::AudioProcessor& processor;
    juce::AudioBuffer<float> channels; ///< as the processor wants them: main, then Return
    juce::MidiBuffer midi;             ///< always empty
};

}
