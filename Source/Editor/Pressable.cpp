#include "Editor/Pressable.h"

namespace plumbline
{

Pressable::Pressable(WindowContext& windowContext, const juce::String& title) : Part(windowContext)
{
    setTitle(title);
    setWantsKeyboardFocus(true);
    setMouseCursor(juce::MouseCursor::PointingHandCursor);
}

void Pressable::mouseUp(const juce::MouseEvent& event)
{
    if (event.mods.isLeftButtonDown() && contains(event.getPosition()))
        press();
}

bool Pressable::keyPressed(const juce::KeyPress& key)
{
    if (key != juce::KeyPress(juce::KeyPress::returnKey))
        return false;
    press();
    return true;
}

void Pressable::focusGained(FocusChangeType cause)
{
    ringShown = cause != focusChangedByMouseClick;
    repaint();
}

void Pressable::focusLost(FocusChangeType)
{
    ringShown = false;
    repaint();
}

void Pressable::paint(juce::Graphics& g)
{
    const auto pen = ink(g);
    draw(pen);
    if (ringShown)
        pen.focusRing(getLocalBounds().toFloat().reduced(4.0f), 5.0f);
}

std::unique_ptr<juce::AccessibilityHandler> Pressable::createAccessibilityHandler()
{
    return std::make_unique<juce::AccessibilityHandler>(
        *this, juce::AccessibilityRole::button,
        juce::AccessibilityActions().addAction(juce::AccessibilityActionType::press, [this] { press(); }));
}

void Pressable::press()
{
    if (onPress)
        onPress();
}

}
