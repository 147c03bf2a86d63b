#pragma once

#include "Editor/Pressable.h"

namespace plumbline
{

/** The right end of the header on every screen: Stop. Outlined in silence, filled while anything sounds. After
    a stop that must be acknowledged it lets the mix back. */
class StopSlot final : public Pressable
{
public:
    explicit StopSlot(WindowContext& windowContext);

    void viewChanged() override { repaint(); }

    void liveChanged() override;
    void mouseDown(const juce::MouseEvent& event) override;
    void mouseUp(const juce::MouseEvent& event) override;

    /** It lets the mix back; otherwise it stops. Not at once after the stop: a second click that was meant
        for Stop must not undo it. */
    bool letsMixBack() const noexcept { return framesSilenced > guardedFrames; }

    static constexpr int guardedFrames = 24; ///< 0.8 s
    static constexpr int inset = 6;          ///< around the slot, for the focus ring, px

private:
    void draw(const Ink& ink) override;
    void press() override;

    bool filled = false;
    bool pressBegan = false; ///< the mouse went down when it already let the mix back
    int framesSilenced = 0;  ///< since the stop that must be acknowledged was first seen
};

}
