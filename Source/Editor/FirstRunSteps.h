#pragma once

#include "Editor/FirstSteps.h"
#include "Editor/PairEditor.h"
#include "Editor/WordSwitch.h"

namespace plumbline
{

/** Four steps to the first curve, the bob at the next. */
class FirstRunSteps final : public Part
{
public:
    explicit FirstRunSteps(WindowContext& context);

    /** Where it stands in the unscaled window; its height is the page's. */
    static constexpr int left = 12, top = 270, width = 536;

    void show(const FirstSteps& steps);

    void viewChanged() override;
    void resized() override;
    void paint(juce::Graphics& g) override;

    WordSwitch& whereSwitch() noexcept { return where; }

    PairEditor& pairs() noexcept { return editor; }

    LinkButton& careLink() noexcept { return care; }

private:
    int baselineOf(FirstSteps::Step step) const;
    void paintStep(const Ink& pen, FirstSteps::Step step) const;
    juce::String firstTakeHead() const;
    juce::String firstTakeWords() const;

    FirstSteps steps;
    WordSwitch where;
    PairEditor editor;
    LinkButton care;
};

}
