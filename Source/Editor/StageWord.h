#pragma once

#include "Editor/Pressable.h"

namespace plumbline
{

/** A stage's name in the header, and under it what the stage knows. */
class StageWord final : public Pressable
{
public:
    StageWord(WindowContext& windowContext, Stage stageToShow);

    Stage stage() const noexcept { return shown; }

    const juce::String& note() const noexcept { return words; }

    void viewChanged() override;
    void liveChanged() override;
    bool keyPressed(const juce::KeyPress& key) override;

    /** From the left edge to where the words begin, px. */
    static constexpr int inset = 7;

private:
    void draw(const Ink& ink) override;
    void readNote();
    void moveFocus(int steps);

    const Stage shown;
    juce::String words;
};

}
