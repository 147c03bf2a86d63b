#pragma once

#include "Editor/Part.h"

namespace plumbline
{

/** Underlined words that do something small, or lead somewhere. At least 24 px high to the pointer. */
class LinkButton final : public juce::Button
{
public:
    explicit LinkButton(WindowContext& context, const juce::String& words = {}, float size = 14.0f);

    void say(const juce::String& words);
    float wordsWidth() const;
    /** Puts the words' start and baseline there. @param measure px that the words may take; longer ones are
        shortened */
    void placeAt(int x, int baseline, float measure = 2000.0f);
    /** As placeAt, with the words' end. */
    void placeEndAt(int xEnd, int baseline);

    /** As a click; nothing happens while it is off. */
    void press();

    bool keyPressed(const juce::KeyPress& key) override;
    void paintButton(juce::Graphics& g, bool pointedAt, bool down) override;
    void focusGained(FocusChangeType cause) override;
    void focusLost(FocusChangeType cause) override;

private:
    WindowContext& context;
    float size, most = 2000.0f;
};

}
