#include "Editor/Header.h"

#include "Editor/StageNotes.h"

namespace plumbline
{

namespace
{

const juce::String program = "Plumbline";
constexpr int firstStage = 212, stageStep = 150; ///< where the stages' words begin, px
constexpr int threadBefore = 11;                 ///< the plumb line hangs so far before them
constexpr int stopWidth = 104, stopHeight = 40;

int wordsOf(Stage stage)
{
    return firstStage + stageStep * static_cast<int>(stage);
}

}

Header::Header(WindowContext& windowContext)
    : Part(windowContext), trial(windowContext), care(windowContext), stop(windowContext),
      thread(windowContext)
{
    setTitle(program);
    setBounds(0, 0, place::width, StageThread::height);
    for (const auto stage : stages)
        words[static_cast<std::size_t>(stage)] = std::make_unique<StageWord>(windowContext, stage);
    addAndMakeVisible(trial);
    for (auto& each : words)
        addAndMakeVisible(*each);
    addAndMakeVisible(care);
    addAndMakeVisible(stop);
    addAndMakeVisible(thread);
    layOut();
    stageChanged(false);
}

void Header::layOut()
{
    trial.setBounds(place::margin - TrialName::inset, 31, 172, 26);
    for (auto& each : words)
        each->setBounds(wordsOf(each->stage()) - StageWord::inset, 5, stageStep - 12, 51);
    const auto stopLeft = place::width - place::margin - stopWidth;
    stop.setBounds(
        juce::Rectangle<int>(stopLeft, place::headerHeight / 2 - stopHeight / 2, stopWidth, stopHeight)
            .expanded(StopSlot::inset));
    care.setBounds(stopLeft - 22 - 96 + 6, 16, 96, 28);
    auto order = 1;
    for (auto* each : getChildren())
        each->setExplicitFocusOrder(order++);
}

void Header::viewChanged()
{
    trial.viewChanged();
    for (auto& each : words)
        each->viewChanged();
    care.viewChanged();
    stop.viewChanged();
    thread.viewChanged();
    repaint();
}

void Header::liveChanged()
{
    for (auto& each : words)
        each->liveChanged();
    stop.liveChanged();
}

void Header::stageChanged(bool slide)
{
    thread.hangAt(static_cast<float>(wordsOf(context.stage) - threadBefore),
                  slide && !view().appearance.reduceMotion);
    for (auto& each : words)
        each->repaint();
}

void Header::paint(juce::Graphics& g)
{
    const auto pen = ink(g);
    pen.text(place::margin, 27.0f, program, 17.0f, palette().ink, Weight::semibold);
    pen.rule(place::headerHeight, 0.0f, place::width);
}

}
