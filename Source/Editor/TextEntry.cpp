#include "Editor/TextEntry.h"

#include "Editor/StopFirst.h"

namespace plumbline
{

namespace
{
constexpr int longestText = 120;
}

TextEntry::TextEntry(WindowContext& windowContext, const juce::String& title, float wordsSize)
    : context(windowContext), size(wordsSize)
{
    setTitle(title);
    setMultiLine(false);
    setPopupMenuEnabled(false);
    setInputRestrictions(longestText);
    setBorder({ 0, 0, 0, 0 });
    setIndents(8, 0);
    setJustification(juce::Justification::centredLeft);
    setScrollToShowCursor(true);
    setVisible(false);
}

void TextEntry::begin(const juce::String& words, const juce::String& hint)
{
    typing = true;
    hintWords = hint;
    setFont(font(size, Weight::medium));
    setColour(backgroundColourId, juce::Colours::transparentBlack);
    setColour(outlineColourId, juce::Colours::transparentBlack);
    setColour(focusedOutlineColourId, juce::Colours::transparentBlack);
    setColour(shadowColourId, juce::Colours::transparentBlack);
    setColour(highlightedTextColourId, context.palette->ink);
    setColour(highlightColourId, context.palette->rule);
    setColour(textColourId, context.palette->ink);
    setColour(juce::CaretComponent::caretColourId, context.palette->ink);
    setTextToShowWhenEmpty(hint, context.palette->third);
    setText(words, juce::dontSendNotification);
    applyFontToAllText(font(size, Weight::medium));
    applyColourToAllText(context.palette->ink);
    setVisible(true);
    toFront(false);
    grabKeyboardFocus();
    selectAll();
}

bool TextEntry::keyPressed(const juce::KeyPress& key)
{
    if (key.isKeyCode(juce::KeyPress::escapeKey))
    {
        if (stopComesFirst(context.live))
            return false;
        finish(false);
        return true;
    }
    if (key.isKeyCode(juce::KeyPress::returnKey))
    {
        finish(true);
        return true;
    }
    return juce::TextEditor::keyPressed(key);
}

void TextEntry::focusLost(FocusChangeType cause)
{
    juce::TextEditor::focusLost(cause);
    finish(isShowing()); // what was taken off the screen under it was not meant
}

void TextEntry::finish(bool keep)
{
    if (!typing)
        return;
    typing = false;
    const auto words = getText();
    setVisible(false);
    if (const auto done = onDone; keep && done != nullptr)
        done(words);
    else if (const auto abandoned = onAbandoned; !keep && abandoned != nullptr)
        abandoned();
}

void TextEntry::colourChanged()
{
    juce::TextEditor::colourChanged();
    repaint();
}

void TextEntry::paint(juce::Graphics& g)
{
    const Ink ink(g, *context.palette);
    ink.plate(getLocalBounds().toFloat(), context.palette->ground, 5.0f);
    juce::TextEditor::paint(g);
}

void TextEntry::paintOverChildren(juce::Graphics& g)
{
    juce::TextEditor::paintOverChildren(g);
    const Ink ink(g, *context.palette);
    ink.box(getLocalBounds().toFloat(), context.palette->ink, 5.0f, 2.0f);
}

}
