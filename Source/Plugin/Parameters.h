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

    juce::AudioParameterFloat& level;   ///< dBFS of the stimulus' peak
    juce::AudioParameterFloat& seconds; ///< length of one sweep

private:
    static juce::AudioParameterFloat& add(juce::AudioProcessor& processor,
                                          std::unique_ptr<juce::AudioParameterFloat> made);
};

}
