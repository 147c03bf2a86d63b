#pragma once

#include "Measure/Stimulus.h"

#include <juce_audio_processors/juce_audio_processors.h>

namespace plumbline
{

/** Every parameter a host can see: id, version, unit, range, default and label in one place. Nobody else
    spells an id. The published set and its order are pinned by a test. */
struct Parameters
{
    explicit Parameters(juce::AudioProcessor& processor);

    juce::AudioParameterFloat& level;    ///< dBFS of the stimulus' peak
    juce::AudioParameterFloat& seconds;  ///< length of one sweep
    juce::AudioParameterBool& startTake; ///< off to on starts the take that the user has armed

private:
    template <class Parameter>
    static Parameter& add(juce::AudioProcessor& processor, std::unique_ptr<Parameter> made)
    {
        auto& parameter = *made;
        processor.addParameter(made.release());
        return parameter;
    }
};

}
