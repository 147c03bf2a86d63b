#include "Editor/SentenceWord.h"

namespace plumbline
{

namespace
{
constexpr int baselineInside = 20, height = 32;
}

SentenceWord::SentenceWord(WindowContext& windowContext, const juce::String& title)
    : Part(windowContext), name(title)
{
    setTitle(title);
    setWantsKeyboardFocus(true);
    setMouseCursor(juce::MouseCursor::PointingHandCursor);
}

float SentenceWord::wordsWidth() const
{
    return textWidth(shown(), size, Weight::medium);
}

void SentenceWord::placeAt(float x, float baseline)
{
    setBounds(juce::roundToInt(x) - room, juce::roundToInt(baseline) - baselineInside,
              juce::roundToInt(std::ceil(wordsWidth())) + 2 * room, height);
}

juce::Rectangle<int> SentenceWord::wordsArea() const
{
    return getLocalBounds().reduced(room, 4);
}

void SentenceWord::wordsChanged()
{
    setTitle(name + ": " + shown());
    repaint();
    if (onWidthChanged != nullptr)
        onWidthChanged();
}

bool SentenceWord::keyPressed(const juce::KeyPress& key)
{
    if (!key.isKeyCode(juce::KeyPress::returnKey))
        return false;
    open();
    return true;
}

bool SentenceWord::hitTest(int, int y)
{
    return std::abs(y - (baselineInside - 4)) <= 12; // lines of small text stand close
}

void SentenceWord::paint(juce::Graphics& g)
{
    constexpr auto x = static_cast<float>(room), baseline = static_cast<float>(baselineInside);
    const auto width = wordsWidth();
    const auto pen = ink(g);
    const bool pointedAt = isMouseOver() && isEnabled();
    if (pointedAt)
        pen.plate({ x - 4.0f, baseline - 16.0f, width + 8.0f, 24.0f }, palette().plate);
    pen.text(x, baseline, shown(), size, palette().ink, Weight::medium);
    if (pointedAt)
        pen.line(x, baseline + 4.5f, x + width, baseline + 4.5f, palette().ink, 1.2f);
    else
        pen.dottedRule(x, x + width, baseline);
    if (hasKeyboardFocus(false))
        pen.box({ x - 6.0f, baseline - 18.0f, width + 12.0f, 28.0f }, palette().ink, 5.0f, 2.0f);
}

std::unique_ptr<juce::AccessibilityHandler> SentenceWord::createAccessibilityHandler()
{
    auto actions = juce::AccessibilityActions()
                       .addAction(juce::AccessibilityActionType::press, [this] { open(); })
                       .addAction(juce::AccessibilityActionType::showMenu, [this] { open(); });
    return std::make_unique<juce::AccessibilityHandler>(*this, role(), std::move(actions));
}

}
