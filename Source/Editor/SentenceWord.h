#pragma once

#include "Editor/Part.h"

namespace plumbline
{

/** A word in a sentence that can be changed: ink over a dotted rule. Pointed at it stands on a plate; Return
    or a click opens it. */
class SentenceWord : public Part
{
public:
    SentenceWord(WindowContext& context, const juce::String& title);

    /** Room about the words for the ring that shows the focus, px. */
    static constexpr int room = 8;

    std::function<void()> onWidthChanged;
    /** What is to be said about what was typed; empty takes it back. */
    std::function<void(const juce::String&)> onRemark;

    virtual juce::String shown() const = 0;
    virtual void open() = 0;

    void setWordSize(float newSize) noexcept { size = newSize; }

    float wordsWidth() const;
    void placeAt(float x, float baseline);

    bool keyPressed(const juce::KeyPress& key) override;

    void mouseEnter(const juce::MouseEvent&) override { repaint(); }

    void mouseExit(const juce::MouseEvent&) override { repaint(); }

    void focusGained(FocusChangeType) override { repaint(); }

    void focusLost(FocusChangeType) override { repaint(); }

    bool hitTest(int x, int y) override;
    void paint(juce::Graphics& g) override;
    std::unique_ptr<juce::AccessibilityHandler> createAccessibilityHandler() override;

protected:
    /** What is shown changed: the sentence is laid out anew. */
    void wordsChanged();
    juce::Rectangle<int> wordsArea() const;

    virtual juce::AccessibilityRole role() const { return juce::AccessibilityRole::comboBox; }

    const juce::String name;
    float size = 15.0f;
};

}
