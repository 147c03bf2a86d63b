#pragma once

#include "Plugin/AnalysisWorker.h"
#include "Plugin/HostTrigger.h"
#include "Plugin/Parameters.h"
#include "Plugin/PracticeReturn.h"
#include "Plugin/Session.h"
#include "Plugin/TakeControl.h"
#include "Realtime/TakeRunner.h"
#if PLUMBLINE_TEST_HOOKS
#include "Plugin/TestHook.h"
#endif

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

/** Makes the window of a processor. The entry point gives it, so that the processor does not know the window. */
using EditorFactory =
    std::function<juce::AudioProcessorEditor*(juce::AudioProcessor& processor, EditorInterface& session)>;

/** The plugin's processor: main mono or stereo, and the side-chain Return, channel 1 the microphone, channel
    2 the electrical loopback. The Return is never passed to the output. */
class PlumblineProcessor final : public juce::AudioProcessor, public TakeControl
{
public:
    /** Needs no display, no device and no file. @param editorFactory none: there is no window */
    explicit PlumblineProcessor(AnalysisDrive drive = AnalysisDrive::thread,
                                EditorFactory editorFactory = {});
    ~PlumblineProcessor() override;

    // --- TakeControl ---
    std::optional<Problem> requestTake(const TakeRequest& request) override;
    void startTake() override;
    void stopTake() override;
    void acknowledge() override;
    TakeStatus takeStatus() const override;

    /** What a window may ask and see. */
    Session& session() noexcept { return itsSession; }

    /** Of our own application: opens its audio settings. [message] */
    void setAudioSettingsOpener(std::function<void()> opener)
    {
        itsSession.setAudioSettingsOpener(std::move(opener));
    }

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

    juce::AudioProcessorEditor* createEditor() override;

    bool hasEditor() const override { return makeWindow != nullptr; }

    int getNumPrograms() override { return 1; }

    int getCurrentProgram() override { return 0; }

    void setCurrentProgram(int) override {}

    const juce::String getProgramName(int) override { return {}; }

    void changeProgramName(int, const juce::String&) override {}

    void getStateInformation(juce::MemoryBlock& state) override;
    void setStateInformation(const void* data, int bytes) override;

private:
    TakeBlock blockOf(juce::AudioBuffer<float>& buffer);

    EditorFactory makeWindow;
    Parameters parameters;
    TakeRunner runner;
    PracticeReturn practice;
    AnalysisWorker worker;
    Session itsSession;
    HostTrigger trigger;
#if PLUMBLINE_TEST_HOOKS
    TestHook testHook;
#endif
    std::unique_ptr<AnalysisThread> thread;
};

}
