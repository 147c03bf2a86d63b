#pragma once

#include "Editor/Part.h"

#include <array>

namespace plumbline
{

/** Two words of which one holds: that is filled, the other stands in an outline, ready to be chosen. */
class WordSwitch final : public Part
{
public:
    WordSwitch(WindowContext& context, const juce::String& title, const juce::String& first,
               const juce::String& second);

    std::function<void(int)> onChosen;

    /** @param word 0 or 1; -1 while neither was chosen */
    void setHolding(int word);

    int holding() const noexcept { return held; }

    /** Puts the first word's box there, with this baseline. */
    void placeAt(int x, int baseline);
    /** As a click on that word. */
    void choose(int word);

    void resized() override;
    bool keyPressed(const juce::KeyPress& key) override;

private:
    class Word final : public juce::Button
    {
    public:
        Word(WordSwitch& whole, const juce::String& words);
        int boxWidth() const;
        bool keyPressed(const juce::KeyPress& key) override;
        void paintButton(juce::Graphics& g, bool pointedAt, bool down) override;
        void focusGained(FocusChangeType cause) override;
        void focusLost(FocusChangeType cause) override;

    private:
        WordSwitch& owner;
    };

    std::array<Word, 2> words;
    int held = -1;
};

}
