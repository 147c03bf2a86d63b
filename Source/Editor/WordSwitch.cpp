#include "Editor/WordSwitch.h"

namespace plumbline
{

namespace
{
constexpr float wordSize = 15.0f;
constexpr int ringRoom = 5, boxHeight = 24, boxAbove = 16, gap = 6;
}

WordSwitch::WordSwitch(WindowContext& windowContext, const juce::String& title, const juce::String& first,
                       const juce::String& second)
    : Part(windowContext), words{ Word{ *this, first }, Word{ *this, second } }
{
    setTitle(title);
    setFocusContainerType(FocusContainerType::focusContainer);
    for (int i = 0; i < 2; ++i)
    {
        words[static_cast<std::size_t>(i)].onClick = [this, i] { choose(i); };
        addAndMakeVisible(words[static_cast<std::size_t>(i)]);
    }
}

void WordSwitch::setHolding(int word)
{
    if (word == held)
        return;
    held = word;
    for (std::size_t i = 0; i < words.size(); ++i)
        words[i].setToggleState(static_cast<int>(i) == held, juce::dontSendNotification);
    repaint();
}

void WordSwitch::placeAt(int x, int baseline)
{
    const int width = words[0].boxWidth() + gap + words[1].boxWidth();
    setBounds(x - ringRoom, baseline - boxAbove - ringRoom, width + 2 * ringRoom, boxHeight + 2 * ringRoom);
}

void WordSwitch::choose(int word)
{
    if (word == held)
        return;
    setHolding(word);
    if (const auto chosen = onChosen)
        chosen(word);
}

void WordSwitch::resized()
{
    auto area = getLocalBounds().reduced(ringRoom);
    words[0].setBounds(area.removeFromLeft(words[0].boxWidth()).expanded(ringRoom));
    words[1].setBounds(area.removeFromRight(words[1].boxWidth()).expanded(ringRoom));
}

bool WordSwitch::keyPressed(const juce::KeyPress& key)
{
    const bool left = key.isKeyCode(juce::KeyPress::leftKey);
    if (!left && !key.isKeyCode(juce::KeyPress::rightKey))
        return false;
    const int word = left ? 0 : 1;
    words[static_cast<std::size_t>(word)].grabKeyboardFocus();
    choose(word);
    return true;
}

WordSwitch::Word::Word(WordSwitch& whole, const juce::String& wordsOfIt)
    : juce::Button(wordsOfIt), owner(whole)
{
    setTitle(wordsOfIt);
    setWantsKeyboardFocus(true);
    setClickingTogglesState(false);
    setRadioGroupId(0);
}

int WordSwitch::Word::boxWidth() const
{
    return juce::roundToInt(std::ceil(textWidth(getButtonText(), wordSize, Weight::semibold))) + 16;
}

bool WordSwitch::Word::keyPressed(const juce::KeyPress& key)
{
    if (!key.isKeyCode(juce::KeyPress::returnKey))
        return false;
    if (const auto act = onClick)
        act();
    return true;
}

void WordSwitch::Word::paintButton(juce::Graphics& g, bool pointedAt, bool)
{
    const auto pen = owner.ink(g);
    const auto& colours = owner.palette();
    const auto area = getLocalBounds().reduced(ringRoom).toFloat();
    const bool holds = getToggleState();
    if (holds)
        pen.plate(area, colours.ink);
    else
    {
        if (pointedAt)
            pen.plate(area, colours.plate);
        pen.box(area, colours.third);
    }
    pen.text(area.getX() + 8.0f, area.getY() + static_cast<float>(boxAbove), getButtonText(), wordSize,
             holds ? colours.ground : colours.ink, Weight::semibold);
    if (hasKeyboardFocus(false))
        pen.focusRing(area);
}

void WordSwitch::Word::focusGained(FocusChangeType cause)
{
    juce::Button::focusGained(cause);
    repaint();
}

void WordSwitch::Word::focusLost(FocusChangeType cause)
{
    juce::Button::focusLost(cause);
    repaint();
}

}
