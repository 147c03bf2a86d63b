#pragma once

#include "Editor/Part.h"

namespace plumbline
{

/** A part that can be pressed: by the mouse, by Return while it has the keyboard, by a screen reader. Space
    passes by: it is the host's. */
class Pressable : public Part
{
public:
    /** @param title how a screen reader names it */
    Pressable(WindowContext& windowContext, const juce::String& title);

    std::function<void()> onPress;

    void mouseUp(const juce::MouseEvent& event) override;

    void mouseEnter(const juce::MouseEvent&) override { repaint(); }

    void mouseExit(const juce::MouseEvent&) override { repaint(); }

    bool keyPressed(const juce::KeyPress& key) override;
    void focusGained(FocusChangeType cause) override;
    void focusLost(FocusChangeType cause) override;
    void paint(juce::Graphics& g) final;
    std::unique_ptr<juce::AccessibilityHandler> createAccessibilityHandler() override;

protected:
    /** Draws all but the focus ring. */
    virtual void draw(const Ink& ink) = 0;
    virtual void press();

private:
    bool ringShown = false; ///< the keyboard came by key, not by mouse
};

}
