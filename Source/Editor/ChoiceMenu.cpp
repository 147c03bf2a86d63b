#include "Editor/ChoiceMenu.h"

namespace plumbline
{

namespace
{
constexpr int rowHeight = 25, roomAbove = 6, textLeft = 28;
constexpr float wordSize = 14.0f;
}

ChoiceMenu::ChoiceMenu(WindowContext& windowContext, const juce::String& title, juce::StringArray options,
                       int holding)
    : Popover(windowContext), name(title), words(std::move(options)), holds(holding),
      filled(juce::jlimit(0, juce::jmax(0, words.size() - 1), holding))
{
    fill(filled);
}

void ChoiceMenu::openUnder(juce::Component& anchor, juce::Rectangle<int> area)
{
    float widest = 80.0f;
    for (const auto& option : words)
        widest = juce::jmax(widest, textWidth(option, wordSize, Weight::semibold));
    openBeside(anchor, area, textLeft + juce::roundToInt(widest) + 24,
               words.size() * rowHeight + 2 * roomAbove);
}

void ChoiceMenu::choose(int row)
{
    const auto chosen = onChosen;
    close(); // may delete this
    if (chosen != nullptr)
        chosen(row);
}

bool ChoiceMenu::keyPressed(const juce::KeyPress& key)
{
    const int last = words.size() - 1;
    if (key.isKeyCode(juce::KeyPress::returnKey))
        choose(filled);
    else if (key.isKeyCode(juce::KeyPress::upKey))
        fill(juce::jmax(0, filled - 1));
    else if (key.isKeyCode(juce::KeyPress::downKey))
        fill(juce::jmin(last, filled + 1));
    else if (key.isKeyCode(juce::KeyPress::homeKey))
        fill(0);
    else if (key.isKeyCode(juce::KeyPress::endKey))
        fill(last);
    else
        return Popover::keyPressed(key);
    return true;
}

void ChoiceMenu::mouseMove(const juce::MouseEvent& event)
{
    if (const int row = rowAt(event.getPosition()); row >= 0)
        fill(row);
}

void ChoiceMenu::mouseUp(const juce::MouseEvent& event)
{
    if (const int row = rowAt(event.getPosition()); row >= 0)
        choose(row);
}

void ChoiceMenu::fill(int row)
{
    filled = row;
    setTitle(name + ": " + words[row] + (row == holds ? ", holds now" : ""));
    if (auto* handler = getAccessibilityHandler())
        handler->notifyAccessibilityEvent(juce::AccessibilityEvent::titleChanged);
    repaint();
}

int ChoiceMenu::rowAt(juce::Point<int> position) const
{
    const int row = (position.y - roomAbove) / rowHeight;
    const bool inside = getLocalBounds().contains(position) && position.y >= roomAbove && row < words.size();
    return inside ? row : -1;
}

void ChoiceMenu::paint(juce::Graphics& g)
{
    Popover::paint(g);
    for (int row = 0; row < words.size(); ++row)
    {
        const auto top = static_cast<float>(roomAbove + row * rowHeight);
        const auto colour = row == filled ? palette().ground : palette().ink;
        if (row == filled)
            ink(g).plate({ 4.0f, top + 1.0f, static_cast<float>(getWidth()) - 8.0f, 24.0f }, palette().ink);
        ink(g).text(textLeft, top + 18.0f, words[row], wordSize, colour, Weight::semibold);
        if (row == holds)
            ink(g).plate({ 15.0f, top + 7.0f, 2.6f, 12.0f }, colour, 0.0f);
    }
}

std::unique_ptr<juce::AccessibilityHandler> ChoiceMenu::createAccessibilityHandler()
{
    return std::make_unique<juce::AccessibilityHandler>(
        *this, juce::AccessibilityRole::popupMenu,
        juce::AccessibilityActions().addAction(juce::AccessibilityActionType::press,
                                               [this] { choose(filled); }));
}

}
