#pragma once

#include "Plugin/EditorInterface.h"

#include <juce_audio_processors/juce_audio_processors.h>

namespace plumbline
{

/** [message] Makes the window. Given to the processor by the entry point, so that the processor does not know
    the window. Needs no display until it is put on the desktop.
    @param session must outlive the window, as the processor does */
juce::AudioProcessorEditor* makeEditor(juce::AudioProcessor& processor, EditorInterface& session);

}
