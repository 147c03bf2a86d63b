#include "Plugin/Parameters.h"

namespace plumbline
{

namespace
{
constexpr int sinceVersion = 1;

std::unique_ptr<juce::AudioParameterFloat> levelParameter()
{
    return std::make_unique<juce::AudioParameterFloat>(
        juce::ParameterID("level", sinceVersion), "Level",
        juce::NormalisableRange<float>(-80.0f, static_cast<float>(ceilingDbfs), 0.5f),
        static_cast<float>(startLevelDbfs),
        juce::AudioParameterFloatAttributes().withLabel("dBFS").withAutomatable(false));
}

std::unique_ptr<juce::AudioParameterFloat> secondsParameter()
{
    return std::make_unique<juce::AudioParameterFloat>(
        juce::ParameterID("sweepSeconds", sinceVersion), "Sweep length",
        juce::NormalisableRange<float>(1.0f, 30.0f, 0.5f), 5.0f,
        juce::AudioParameterFloatAttributes().withLabel("s").withAutomatable(false));
}

std::unique_ptr<juce::AudioParameterBool> startParameter()
{
    return std::make_unique<juce::AudioParameterBool>(juce::ParameterID("startTake", sinceVersion),
                                                      "Start take", false);
}
}

Parameters::Parameters(juce::AudioProcessor& processor)
    : level(add(processor, levelParameter())), seconds(add(processor, secondsParameter())),
      startTake(add(processor, startParameter()))
{
}

}
