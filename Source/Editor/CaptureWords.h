#pragma once

#include "Editor/ActButton.h"
#include "Editor/CaptureSayings.h"
#include "Editor/FaultList.h"
#include "Editor/MessagePlate.h"

namespace plumbline
{

/** Capture's words beside the board: how things stand, what to do, the one act and what keeps it off.
    Messages about the take and the sound stand here too. */
class CaptureWords final : public Part
{
public:
    explicit CaptureWords(WindowContext& context);

    void viewChanged() override;
    void liveChanged() override;
    void resized() override;
    void paint(juce::Graphics& g) override;

    /** Something to be said for a while about what was typed; empty takes it back. */
    void remark(const juce::String& words);

    ActButton& act() noexcept { return next; }

    ActButton& lift() noexcept { return again; }

    MessagePlate& plate() noexcept { return message; }

    FaultList& faults() noexcept { return remarks; }

    const CaptureSaying& saying() const noexcept { return words; }

    /** What stands under the act. */
    Caution beneath() const;

private:
    void doAct();
    void compose();
    void composeMessage();
    void layOut();
    void paintTaking(const Ink& pen);

    ActButton next, again;
    MessagePlate message;
    FaultList remarks;
    CaptureSaying words;
    TakeAct now;
    juce::String typedRemark, moreMessages;
    std::string messageCode;
};

}
