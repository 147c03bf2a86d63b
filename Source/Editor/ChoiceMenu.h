#pragma once

#include "Editor/Popover.h"

namespace plumbline
{

/** The words that one choice may be. A stroke marks what holds; the filled row is what Return would choose.
    */
class ChoiceMenu final : public Popover
{
public:
    ChoiceMenu(WindowContext& context, const juce::String& title, juce::StringArray options, int holding);

    /** Called once, with the row; the menu is closed by then, and may be deleted. */
    std::function<void(int)> onChosen;

    void openUnder(juce::Component& anchor, juce::Rectangle<int> area);

    int filledRow() const noexcept { return filled; }

    void choose(int row);

    bool keyPressed(const juce::KeyPress& key) override;
    void mouseMove(const juce::MouseEvent& event) override;
    void mouseUp(const juce::MouseEvent& event) override;
    void paint(juce::Graphics& g) override;
    std::unique_ptr<juce::AccessibilityHandler> createAccessibilityHandler() override;

private:
    void fill(int row);
    int rowAt(juce::Point<int> position) const;

    juce::String name;
    juce::StringArray words;
    int holds, filled;
};

}
