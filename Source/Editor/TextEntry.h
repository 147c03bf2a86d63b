#pragma once

#include "Editor/Part.h"

namespace plumbline
{

/** One line to type into. Return, Tab or leaving it is done; Escape abandons it, unless something sounds:
    then Escape is Stop's. */
class TextEntry final : public juce::TextEditor
{
public:
    TextEntry(WindowContext& context, const juce::String& title, float size = 15.0f);

    /** Called once for each begin(), with what stands there. */
    std::function<void(const juce::String&)> onDone;
    /** Called instead of onDone; nothing is to be changed. */
    std::function<void()> onAbandoned;

    /** Shows it with these words selected, and takes the keyboard. */
    void begin(const juce::String& words, const juce::String& hint = {});

    bool isTyping() const noexcept { return typing; }

    void abandon() { finish(false); }

    bool keyPressed(const juce::KeyPress& key) override;
    void focusLost(FocusChangeType cause) override;
    void colourChanged() override;
    void paint(juce::Graphics& g) override;
    void paintOverChildren(juce::Graphics& g) override;

private:
    void finish(bool keep);

    WindowContext& context;
    float size;
    juce::String hintWords;
    bool typing = false;
};

}
