#include "Plugin/PlumblineProcessor.h"

#include "Core/ThreadTags.h"
#include "Files/FftWisdom.h"
#include "Plugin/AnalysisThread.h"
#include "Plugin/HostState.h"

namespace plumbline
{

namespace
{

using Layout = juce::AudioProcessor::BusesLayout;

double steadySeconds()
{
    return juce::Time::getMillisecondCounterHiRes() / 1000.0;
}

const float* channelOrNull(const juce::AudioBuffer<float>& bus, int channel)
{
    return channel < bus.getNumChannels() ? bus.getReadPointer(channel) : nullptr;
}

}

PlumblineProcessor::PlumblineProcessor(AnalysisDrive drive, EditorFactory editorFactory)
    : juce::AudioProcessor(BusesProperties()
                               .withInput("Main", juce::AudioChannelSet::stereo(), true)
                               .withOutput("Main", juce::AudioChannelSet::stereo(), true)
                               .withInput("Return", juce::AudioChannelSet::stereo(), true)),
      makeWindow(std::move(editorFactory)), parameters(*this), worker(runner, steadySeconds),
      itsSession({ parameters, runner, worker, practice,
                   [this]
                   {
                       if (thread != nullptr)
                           thread->wake();
                   } })
{
    if (drive == AnalysisDrive::thread)
        thread = std::make_unique<AnalysisThread>(itsSession);
}

PlumblineProcessor::~PlumblineProcessor() = default;

const juce::String PlumblineProcessor::getName() const
{
    return "Plumbline";
}

bool PlumblineProcessor::isBusesLayoutSupported(const Layout& layout) const
{
    const auto main = layout.getMainInputChannelSet();
    const bool mainFits = main == layout.getMainOutputChannelSet() &&
                          (main == juce::AudioChannelSet::mono() || main == juce::AudioChannelSet::stereo());
    const auto channels = layout.getChannelSet(true, 1).size();
    // A host seen in practice asks for a mono side-chain, then passes two channels and silences the mix: in
    // plugin formats the Return has two channels or none.
    const bool hosted = wrapperType != wrapperType_Undefined && wrapperType != wrapperType_Standalone;
    const bool returnFits = channels == 0 || channels == 2 || (channels == 1 && !hosted);
    return mainFits && returnFits;
}

juce::AudioProcessorEditor* PlumblineProcessor::createEditor()
{
    return makeWindow ? makeWindow(*this, itsSession) : nullptr;
}

void PlumblineProcessor::prepareToPlay(double sampleRate, int)
{
    worker.setSessionRate(sampleRate);
    runner.prepare(sampleRate);
}

void PlumblineProcessor::releaseResources()
{
    runner.release();
    practice.release();
}

TakeBlock PlumblineProcessor::blockOf(juce::AudioBuffer<float>& buffer)
{
    auto main = getBusBuffer(buffer, false, 0);
    TakeBlock block;
    block.frames = buffer.getNumSamples();
    block.offline = isNonRealtime();
    for (int channel = 0; channel < std::min(2, main.getNumChannels()); ++channel)
        block.main[static_cast<std::size_t>(channel)] = main.getWritePointer(channel);
    if (getBusCount(true) > 1)
    {
        const auto returned = getBusBuffer(buffer, true, 1);
        block.returned = { channelOrNull(returned, 0), channelOrNull(returned, 1) };
    }
    return block;
}

void PlumblineProcessor::processBlock(juce::AudioBuffer<float>& buffer, juce::MidiBuffer&)
{
    const ScopedThreadRole role(ThreadRole::audio);
    const juce::ScopedNoDenormals noDenormals;
    if (trigger.risen(parameters.startTake.get()))
        itsSession.hostAsksForTake();
#if PLUMBLINE_TEST_HOOKS
    if (testHook.isDue(buffer.getNumSamples(), getSampleRate()) && runner.phase() == TakePhase::armed)
    {
        itsSession.hostAsksForTake();
        testHook.done();
    }
#endif
    const auto block = blockOf(buffer);
    if (block.main[0] != nullptr)
        practice.process(block, runner);
}

std::optional<Problem> PlumblineProcessor::requestTake(const TakeRequest& request)
{
    auto refusal = worker.request(request);
    if (!refusal && thread != nullptr)
        thread->wake();
    return refusal;
}

void PlumblineProcessor::startTake()
{
    runner.start();
}

void PlumblineProcessor::stopTake()
{
    worker.stop();
}

void PlumblineProcessor::acknowledge()
{
    runner.acknowledge();
}

TakeStatus PlumblineProcessor::takeStatus() const
{
    return worker.status();
}

TakeRequest PlumblineProcessor::requestFromParameters() const
{
    TakeRequest request;
    request.stimulus.levelDbfs = parameters.level.get();
    request.stimulus.seconds = parameters.seconds.get();
    return request;
}

bool PlumblineProcessor::stepAnalysis()
{
    jassert(thread == nullptr);
    return itsSession.step();
}

void PlumblineProcessor::getStateInformation(juce::MemoryBlock& state)
{
    const auto text = hostState(parameters, itsSession.state());
    state.replaceAll(text.data(), text.size());
}

void PlumblineProcessor::setStateInformation(const void* data, int bytes)
{
    const auto size = static_cast<std::size_t>(std::max(bytes, 0));
    itsSession.restore(restoreHostState(parameters, { static_cast<const char*>(data), size }));
}

}
