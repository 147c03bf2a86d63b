#include "Editor/BoardName.h"

#include "Editor/Figures.h"

namespace plumbline
{

namespace
{
constexpr float textX = 6.0f, measure = 86.0f, nameSize = 15.0f, knownSize = 12.5f;
constexpr auto askForName = "Name a pair";
}

BoardName::BoardName(WindowContext& windowContext) : Pressable(windowContext, askForName)
{
    onPress = [this]
    {
        if (onName != nullptr)
            onName();
    };
}

void BoardName::show(const BoardRowState* state)
{
    const bool asked = asksForName();
    monitorName = state != nullptr ? std::optional(juce::String(state->monitor.name)) : std::nullopt;
    known = state != nullptr ? state->known : juce::String();
    setTitle(asksForName() ? juce::String(askForName)
                           : *monitorName + (known.isEmpty() ? juce::String() : ", " + known));
    setWantsKeyboardFocus(asksForName());
    setMouseCursor(asksForName() ? juce::MouseCursor::PointingHandCursor : juce::MouseCursor::NormalCursor);
    if (asked != asksForName())
        invalidateAccessibilityHandler(); // it is another kind of thing now
    repaint();
}

std::unique_ptr<juce::AccessibilityHandler> BoardName::createAccessibilityHandler()
{
    if (asksForName())
        return Pressable::createAccessibilityHandler();
    return std::make_unique<juce::AccessibilityHandler>(*this, juce::AccessibilityRole::label);
}

void BoardName::mouseUp(const juce::MouseEvent& event)
{
    if (asksForName())
        Pressable::mouseUp(event);
}

void BoardName::mouseDoubleClick(const juce::MouseEvent&)
{
    if (!asksForName() && onName != nullptr)
        onName();
}

void BoardName::focusGained(FocusChangeType cause)
{
    Pressable::focusGained(cause);
    if (onFocus != nullptr)
        onFocus(cause);
}

void BoardName::draw(const Ink& ink)
{
    constexpr auto y = static_cast<float>(baseline);
    if (asksForName())
    {
        const auto end = ink.text(textX, y, askForName, nameSize, palette().ink, Weight::medium);
        ink.dottedRule(textX, end, y);
        return;
    }
    ink.text(textX, y, fitted(*monitorName, measure, nameSize, Weight::semibold), nameSize, palette().ink,
             Weight::semibold);
    ink.text(textX, y + 16.0f, fitted(known, measure, knownSize, Weight::semibold), knownSize,
             palette().third, Weight::semibold);
}

}
