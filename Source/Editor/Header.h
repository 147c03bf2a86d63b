#pragma once

#include "Editor/CareWord.h"
#include "Editor/StageThread.h"
#include "Editor/StageWord.h"
#include "Editor/StopSlot.h"
#include "Editor/TrialName.h"

namespace plumbline
{

/** The window's head: the program, the trial, the five stages with the plumb line at the chosen one, help, and
    the slot of Stop. It reaches 12 px below its edge, for the bob. */
class Header final : public Part
{
public:
    explicit Header(WindowContext& windowContext);

    void viewChanged() override;
    void liveChanged() override;
    /** context.stage is another. @param slide the bob may slide there */
    void stageChanged(bool slide);

    void paint(juce::Graphics& g) override;

    bool hitTest(int, int y) override { return y < place::headerHeight; }

    TrialName& trialName() noexcept { return trial; }

    StageWord& word(Stage stage) { return *words[static_cast<std::size_t>(stage)]; }

    StopSlot& stopSlot() noexcept { return stop; }

    CareWord& careWord() noexcept { return care; }

    const StageThread& stageThread() const noexcept { return thread; }

private:
    void layOut();

    TrialName trial;
    std::array<std::unique_ptr<StageWord>, 5> words;
    CareWord care;
    StopSlot stop;
    StageThread thread;
};

}
