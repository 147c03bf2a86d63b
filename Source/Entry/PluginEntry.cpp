#include "Editor/EditorFactory.h"
#include "Plugin/PlumblineProcessor.h"

/** [message] What every format's wrapper asks for: the processor, with the window it may open. */
juce::AudioProcessor* JUCE_CALLTYPE createPluginFilter()
{
    return new plumbline::PlumblineProcessor(plumbline::AnalysisDrive::thread, plumbline::makeEditor);
}
