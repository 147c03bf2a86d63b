#include "Editor/StopSlot.h"

namespace plumbline
{

namespace
{

const juce::String stopWord = "Stop", stopKey = "Escape";
const juce::String backWord = "Let the mix back", backNote = "silent now";
const juce::String silenced = "Stopped. The output is silent.";

}

StopSlot::StopSlot(WindowContext& windowContext) : Pressable(windowContext, stopWord)
{
    setDescription(stopKey);
}

void StopSlot::liveChanged()
{
    const auto couldLetBack = letsMixBack();
    if (context.live.mustAcknowledge && framesSilenced == 0)
        juce::AccessibilityHandler::postAnnouncement(silenced,
                                                     juce::AccessibilityHandler::AnnouncementPriority::high);
    framesSilenced = context.live.mustAcknowledge ? std::min(framesSilenced + 1, guardedFrames + 1) : 0;
    const auto sounds = context.live.sounds();
    if (letsMixBack() == couldLetBack && sounds == filled)
        return;
    filled = sounds;
    setTitle(letsMixBack() ? backWord : stopWord);
    setDescription(letsMixBack() ? backNote : stopKey);
    repaint();
}

/** Stop acts when the button goes down: it cannot wait. */
void StopSlot::mouseDown(const juce::MouseEvent& event)
{
    pressBegan = letsMixBack();
    if (event.mods.isLeftButtonDown() && !pressBegan)
        press();
}

void StopSlot::mouseUp(const juce::MouseEvent& event)
{
    if (pressBegan && letsMixBack())
        Pressable::mouseUp(event);
    pressBegan = false;
}

void StopSlot::press()
{
    if (letsMixBack())
        context.session.acknowledge();
    else
        context.session.stop();
}

void StopSlot::draw(const Ink& ink)
{
    const auto& colours = ink.colours();
    const auto slot = getLocalBounds().toFloat().reduced(inset);
    const auto back = letsMixBack();
    if (filled)
        ink.plate(slot, colours.attend);
    else
        ink.box(slot, back || isMouseOver() ? colours.ink : colours.third, 3.0f, 1.25f);
    const auto middle = slot.getCentre();
    ink.text(middle.x, middle.y - 1.0f, back ? backWord : stopWord, back ? 13.0f : 15.0f,
             filled ? colours.ground
             : back ? colours.ink
                    : colours.second,
             Weight::semibold, Ink::Anchor::middle);
    ink.text(middle.x, middle.y + 13.0f, back ? backNote : stopKey, 12.5f,
             filled ? colours.ground : colours.third, Weight::semibold, Ink::Anchor::middle);
}

}
