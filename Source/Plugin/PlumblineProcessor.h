#pragma once

#include "Plugin/AnalysisWorker.h"
#include "Plugin/Parameters.h"
#include "Plugin/TakeControl.h"
#include "Realtime/TakeRunner.h"

#include <juce_audio_processors/juce_audio_processors.h>
#include <memory>

namespace plumbline
{

class AnalysisThread;

/** How the analysis side is driven. */
enum class AnalysisDrive
{
    thread, ///< by its own thread, as in a host
    byHand  ///< by step(), for the console program and tests
};

/** The plugin's processor: main mono or stereo, and the side-chain Return, channel 1 the microphone, channel
    2 the electrical loopback. The Return is never passed to the output. */
class PlumblineProcessor final : public juce::AudioProcessor, public TakeControl
{
public:
    explicit PlumblineProcessor(AnalysisDrive drive = AnalysisDrive::thread);
    ~PlumblineProcessor() override;

    // --- TakeControl ---
    std::optional<Problem> requestTake(const TakeRequest& request) override;
    void startTake() override;
    void stopTake() override;
    void acknowledge() override;
    TakeStatus takeStatus() const override;

    /** A request as the parameters stand. */
    TakeRequest requestFromParameters() const;
    /** [analysis] With AnalysisDrive::byHand: one step of the analysis side. */
    bool stepAnalysis();

    // --- juce::AudioProcessor ---
    const juce::String getName() const override;
    bool isBusesLayoutSupported(const BusesLayout& layout) const override;
    void prepareToPlay(double sampleRate, int maximumExpectedSamplesPerBlock) override;
    void releaseResources() override;
    using juce::AudioProcessor::processBlock;
    void processBlock(juce::AudioBuffer<float>& buffer, juce::MidiBuffer& midi) override;

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

    void getStateInformation(juce::MemoryBlock& state) override;
    void setStateInformation(const void* data, int bytes) override;

private:
    Parameters parameters;
    TakeRunner runner;
    AnalysisWorker worker;
    std::unique_ptr<AnalysisThread> thread;
};

}
