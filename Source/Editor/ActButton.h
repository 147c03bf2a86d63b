#pragma once

#include "Editor/Part.h"

namespace plumbline
{

/** An act: filled if it is the stage's next step, outlined otherwise. An act that is off stays to be seen,
    and the page says why beneath. Return or a click does it. */
class ActButton final : public juce::Button
{
public:
    enum class Kind
    {
        filled,
        outlined
    };

    ActButton(WindowContext& context, Kind kind);

    /** Room around the button for the ring that shows the focus, px. */
    static constexpr int ringRoom = 5;

    /** @param why it is off; empty: it is on */
    void say(const juce::String& words, const juce::String& why = {});
    void setKind(Kind kind);

    const juce::String& whyOff() const noexcept { return reason; }

    /** The width that its words want, px. */
    int wantedWidth() const;

    /** Puts the button itself there; its ring lies outside. */
    void placeAt(juce::Rectangle<int> area) { setBounds(area.expanded(ringRoom)); }

    /** As a click; nothing happens while it is off. */
    void press();

    bool keyPressed(const juce::KeyPress& key) override;
    void paintButton(juce::Graphics& g, bool pointedAt, bool down) override;
    void focusGained(FocusChangeType cause) override;
    void focusLost(FocusChangeType cause) override;

private:
    WindowContext& context;
    Kind kind;
    juce::String reason;
};

}
