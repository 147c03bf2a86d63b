#include "Editor/TrialName.h"

#include <algorithm>

namespace plumbline
{

namespace
{

const juce::String unnamed = "A new trial";
constexpr float textSize = 13.0f;

bool mustAttend(const SessionView& view)
{
    return std::any_of(view.messages.begin(), view.messages.end(),
                       [](const SessionMessage& message)
                       { return message.attend && message.concern == SessionMessage::Concern::trial; });
}

juce::String shortened(const juce::String& words, float widest)
{
    if (textWidth(words, textSize, Weight::semibold) <= widest)
        return words;
    const juce::String ellipsis(juce::CharPointer_UTF8("\xe2\x80\xa6"));
    auto kept = words;
    while (kept.isNotEmpty() && textWidth(kept + ellipsis, textSize, Weight::semibold) > widest)
        kept = kept.dropLastCharacters(1);
    return kept.trimEnd() + ellipsis;
}

}

TrialName::TrialName(WindowContext& windowContext) : Pressable(windowContext, "Trial")
{
    onPress = [this] { context.showTrialMenu(); };
}

void TrialName::viewChanged()
{
    const auto& given = view().trial.trial->name;
    const auto whole = given.empty() ? unnamed : juce::String::fromUTF8(given.c_str());
    attend = mustAttend(view());
    name = shortened(whole, static_cast<float>(getWidth() - 2 * inset) - (attend ? 11.0f : 0.0f));
    setTitle("Trial: " + whole);
    setHelpText(name == whole ? juce::String() : whole);
    repaint();
}

void TrialName::draw(const Ink& ink)
{
    const auto baseline = 46.0f - static_cast<float>(getY());
    const auto start = attend ? ink.attendMark(inset, baseline) : static_cast<float>(inset);
    const auto& colours = ink.colours();
    const auto end = ink.text(start, baseline, name, textSize, isMouseOver() ? colours.ink : colours.second,
                              Weight::semibold);
    ink.dottedRule(start, end, baseline - 0.5f);
}

}
