#pragma once

#include "Editor/ActButton.h"
#include "Editor/ConnectionNow.h"
#include "Editor/FirstRunSteps.h"
#include "Editor/PairDrawing.h"
#include "Editor/PracticePlan.h"

namespace plumbline
{

/** Connect: leads a first run by the hand to the first take; later says what is connected. */
class ConnectPage final : public Part
{
public:
    explicit ConnectPage(WindowContext& context);

    void viewChanged() override;
    void liveChanged() override;
    void resized() override;
    void paint(juce::Graphics& g) override;

    ActButton& act() noexcept { return next; }

    FirstRunSteps& firstRun() noexcept { return list; }

    const ConnectSaying& saying() const noexcept { return words; }

    /** What stands beside the act: what was wrong with the last thing typed, or a hint. */
    const juce::String& remark() const noexcept { return typedRemark; }

    FirstSteps steps() const { return firstStepsOf(view(), context.live, told); }

private:
    void doAct();
    void compose();

    ToldHere told;
    ConnectSaying words;
    ActButton next;
    FirstRunSteps list;
    PairDrawing drawing;
    PracticePlan plan;
    ConnectionNow connection;
    juce::String typedRemark;
};

}
