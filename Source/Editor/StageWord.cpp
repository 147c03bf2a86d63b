#include "Editor/StageWord.h"

#include "Editor/StageNotes.h"

namespace plumbline
{

StageWord::StageWord(WindowContext& windowContext, Stage stageToShow)
    : Pressable(windowContext, nameOf(stageToShow)), shown(stageToShow)
{
    onPress = [this] { context.goTo(shown); };
    readNote();
}

void StageWord::viewChanged()
{
    readNote();
    repaint();
}

void StageWord::liveChanged()
{
    readNote();
}

void StageWord::readNote()
{
    const auto now = noteOf(shown, view(), context.live);
    if (now == words)
        return;
    words = now;
    setDescription(now);
    repaint();
}

bool StageWord::keyPressed(const juce::KeyPress& key)
{
    const auto right = key == juce::KeyPress(juce::KeyPress::rightKey);
    if (!right && key != juce::KeyPress(juce::KeyPress::leftKey))
        return Pressable::keyPressed(key);
    moveFocus(right ? 1 : -1);
    return true;
}

/** The arrows move within the five. */
void StageWord::moveFocus(int steps)
{
    const auto wanted = static_cast<int>(shown) + steps;
    for (auto* each : getParentComponent()->getChildren())
        if (auto* other = dynamic_cast<StageWord*>(each);
            other != nullptr && static_cast<int>(other->shown) == wanted)
            other->grabKeyboardFocus();
}

void StageWord::draw(const Ink& ink)
{
    const auto here = context.stage == shown;
    const auto& colours = ink.colours();
    const auto top = static_cast<float>(getY());
    ink.text(inset, 27.0f - top, nameOf(shown), 16.0f, here || isMouseOver() ? colours.ink : colours.second,
             here ? Weight::semibold : Weight::medium);
    ink.text(inset, 46.0f - top, words, 12.5f, here ? colours.second : colours.third, Weight::semibold);
}

}
