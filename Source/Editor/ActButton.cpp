#include "Editor/ActButton.h"

namespace plumbline
{

ActButton::ActButton(WindowContext& windowContext, Kind kindOfAct)
    : juce::Button({}), context(windowContext), kind(kindOfAct)
{
    setWantsKeyboardFocus(true);
}

void ActButton::say(const juce::String& words, const juce::String& why)
{
    if (words == getButtonText() && why == reason)
        return;
    reason = why;
    setButtonText(words);
    setTitle(words);
    setDescription(why);
    setEnabled(why.isEmpty());
    repaint();
}

void ActButton::setKind(Kind kindOfAct)
{
    if (kind == kindOfAct)
        return;
    kind = kindOfAct;
    repaint();
}

int ActButton::wantedWidth() const
{
    return juce::roundToInt(std::ceil(Ink::buttonWidth(getButtonText())));
}

void ActButton::press()
{
    if (const auto act = onClick; isEnabled() && act != nullptr)
        act();
}

bool ActButton::keyPressed(const juce::KeyPress& key)
{
    if (!key.isKeyCode(juce::KeyPress::returnKey) || !isEnabled())
        return false;
    press();
    return true;
}

void ActButton::paintButton(juce::Graphics& g, bool pointedAt, bool)
{
    const Ink ink(g, *context.palette);
    const auto area = getLocalBounds().reduced(ringRoom).toFloat();
    const auto act = !isEnabled() ? Ink::Act::off : kind == Kind::filled ? Ink::Act::main : Ink::Act::plain;
    if (pointedAt && act == Ink::Act::plain)
        ink.plate(area, context.palette->plate);
    ink.button(area, getButtonText(), act);
    if (hasKeyboardFocus(false))
        ink.focusRing(area);
}

void ActButton::focusGained(FocusChangeType cause)
{
    juce::Button::focusGained(cause);
    repaint();
}

void ActButton::focusLost(FocusChangeType cause)
{
    juce::Button::focusLost(cause);
    repaint();
}

}
