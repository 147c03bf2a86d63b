#pragma once

#include "Editor/Figures.h"
#include "Editor/SentenceWord.h"
#include "Editor/TextEntry.h"

namespace plumbline
{

/** A figure of a sentence: dragged up and down, stepped by the arrow keys, or typed after Return or a click.
    What is typed is held to its range; what is no figure is refused, in words, and changes nothing. */
class FigureWord final : public SentenceWord
{
public:
    FigureWord(WindowContext& context, const juce::String& title, const FigureRange& range);

    /** Not called for a value that stood there already. Nothing: it is not known (see setUnknown). */
    std::function<void(std::optional<double>)> onChanged;

    void setValue(std::optional<double> newValue);
    /** Lets the figure be left out.
        @param words shown instead; @param stepFrom where the first step begins */
    void setUnknown(const juce::String& words, double stepFrom);

    bool isTyping() const noexcept { return entry.isTyping(); }

    /** As if it had been typed. */
    void type(const juce::String& words);

    juce::String shown() const override;
    void open() override;
    bool keyPressed(const juce::KeyPress& key) override;
    void mouseDown(const juce::MouseEvent& event) override;
    void mouseDrag(const juce::MouseEvent& event) override;
    void mouseUp(const juce::MouseEvent& event) override;

private:
    double stepped(double from, int steps) const;
    void change(std::optional<double> newValue);

    juce::AccessibilityRole role() const override { return juce::AccessibilityRole::slider; }

    const FigureRange range;
    std::optional<double> value;
    juce::String unknownWords;
    double first = 0.0;
    bool mayBeUnknown = false;
    std::optional<double> dragged; ///< shown while it is dragged, told when it is let go
    TextEntry entry;
};

}
