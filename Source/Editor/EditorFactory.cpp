#include "Editor/EditorFactory.h"

#include "Editor/EditorWindow.h"

namespace plumbline
{

juce::AudioProcessorEditor* makeEditor(juce::AudioProcessor& processor, EditorInterface& session)
{
    return new EditorWindow(processor, session);
}

}
