#include "Editor/StageNotes.h"

namespace plumbline
{

namespace
{

/** Nothing can be taken yet. */
bool beginsHere(const SessionView& view)
{
    return view.trial.trial->monitors.empty() || (!view.careWasRead && !view.practiceRoom);
}

juce::String connectNote(const SessionView& view)
{
    if (beginsHere(view))
        return "begin here";
    return view.practiceRoom ? "practice room" : "ready";
}

/** Takes that count. */
int keptTakes(const Trial& trial)
{
    return static_cast<int>(std::count_if(trial.takes.begin(), trial.takes.end(),
                                          [](const TakeEntry& take) { return take.keep; }));
}

juce::String captureNote(const SessionView& view, const LiveState& live)
{
    const auto kept = keptTakes(*view.trial.trial);
    const auto next = "take " + juce::String(kept + 1);
    switch (live.phase)
    {
    case LiveState::Phase::taking:
    case LiveState::Phase::stopping:
        return next + " running";
    case LiveState::Phase::armed:
        return next + " armed";
    default:
        break;
    }
    if (kept == 0)
        return view.trial.trial->monitors.empty() ? "after the names" : "nothing yet";
    return juce::String(kept) + (kept == 1 ? " take" : " takes");
}

}

juce::String nameOf(Stage stage)
{
    switch (stage)
    {
    case Stage::connect:
        return "Connect";
    case Stage::capture:
        return "Capture";
    case Stage::compare:
        return "Compare";
    case Stage::correct:
        return "Correct";
    case Stage::check:
        break;
    }
    return "Check";
}

juce::String noteOf(Stage stage, const SessionView& view, const LiveState& live)
{
    if (stage == Stage::connect)
        return connectNote(view);
    return stage == Stage::capture ? captureNote(view, live) : juce::String("comes later");
}

Stage openingStage(const SessionView& view)
{
    return beginsHere(view) ? Stage::connect : Stage::capture;
}

}
