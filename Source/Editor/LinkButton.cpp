#include "Editor/LinkButton.h"

#include "Editor/Figures.h"

namespace plumbline
{

namespace
{
constexpr int roomBeside = 5, roomAbove = 19, height = 29;
}

LinkButton::LinkButton(WindowContext& windowContext, const juce::String& words, float wordsSize)
    : juce::Button({}), context(windowContext), size(wordsSize)
{
    setWantsKeyboardFocus(true);
    setMouseCursor(juce::MouseCursor::PointingHandCursor);
    say(words);
}

void LinkButton::say(const juce::String& words)
{
    if (words == getButtonText())
        return;
    setButtonText(words);
    setTitle(words);
    repaint();
}

float LinkButton::wordsWidth() const
{
    return juce::jmin(most, textWidth(getButtonText(), size, Weight::semibold));
}

void LinkButton::placeAt(int x, int baseline, float measure)
{
    most = measure;
    const int width = juce::jmax(24, juce::roundToInt(std::ceil(wordsWidth())) + 2 * roomBeside);
    setBounds(x - roomBeside, baseline - roomAbove, width, height);
}

void LinkButton::placeEndAt(int xEnd, int baseline)
{
    most = 2000.0f;
    placeAt(xEnd - juce::roundToInt(std::ceil(wordsWidth())), baseline);
}

void LinkButton::press()
{
    if (const auto act = onClick; isEnabled() && act != nullptr)
        act();
}

bool LinkButton::keyPressed(const juce::KeyPress& key)
{
    if (!key.isKeyCode(juce::KeyPress::returnKey) || !isEnabled())
        return false;
    press();
    return true;
}

void LinkButton::paintButton(juce::Graphics& g, bool pointedAt, bool)
{
    const Ink ink(g, *context.palette);
    const auto words = fitted(getButtonText(), most, size, Weight::semibold);
    constexpr auto x = static_cast<float>(roomBeside), baseline = static_cast<float>(roomAbove);
    const auto end = ink.link(x, baseline, words, size);
    if (pointedAt)
        ink.line(x, baseline + 5.0f, end, baseline + 5.0f, context.palette->ink, 1.25f);
    if (hasKeyboardFocus(false))
        ink.box(getLocalBounds().toFloat().reduced(0.5f, 2.5f), context.palette->ink, 5.0f, 2.0f);
}

void LinkButton::focusGained(FocusChangeType cause)
{
    juce::Button::focusGained(cause);
    repaint();
}

void LinkButton::focusLost(FocusChangeType cause)
{
    juce::Button::focusLost(cause);
    repaint();
}

}
