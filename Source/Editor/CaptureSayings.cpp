#include "Editor/CaptureSayings.h"

#include "Editor/Figures.h"

#include <cmath>

namespace plumbline
{

namespace
{
using Phase = LiveState::Phase;

constexpr float headlineMeasure = 548.0f, headlineSize = 24.0f;

const FigureRange levelFigure{ -80.0, -6.0, 1.0, 1, "dBFS" };
const FigureRange bandFigure{ 0.0, 1e6, 1.0, 0, "Hz" };

bool isUnderWay(const LiveState& live)
{
    return live.phase == Phase::preparing || live.phase == Phase::armed || live.sounds() ||
           live.phase == Phase::analysing;
}

juce::String hereNow(const SessionView& view)
{
    return juce::String(view.trial.hereNow);
}

const Monitor* monitorHere(const SessionView& view)
{
    const auto stance = parseStance(view.trial.hereNow);
    if (stance)
        for (const auto& monitor : view.trial.trial->monitors)
            if (monitor.name == stance->monitor)
                return &monitor;
    return nullptr;
}

/** The part of the take that is under way, and the seconds that are left of the whole. */
juce::String timeSaying(const SessionView& view, const LiveState& live)
{
    const auto& times = view.times;
    double from = 0.0;
    const auto passed = [&](double seconds) { return live.elapsedSeconds >= (from += seconds); };
    const char* part = "QUIET";
    if (passed(times.quietSeconds))
        part = times.pair ? "LEFT" : "SWEEP";
    if (passed(times.sweepSeconds))
        part = times.pair ? "REST" : "TAIL";
    if (passed(times.restSeconds) && times.pair)
        part = "RIGHT";
    if (times.pair && passed(times.sweepSeconds))
        part = "TAIL";
    const double left = std::max(0.0, times.totalSeconds() - live.elapsedSeconds);
    return juce::String(part) + said(" · ") + figureWords(std::ceil(left), { 0, 1e4, 1, 0, "s" });
}

juce::String nextTakeNumber(const SessionView& view)
{
    const auto newest = takeOfThisSetUp(view);
    return juce::String(newest != nullptr ? newest->take + 1 : 1);
}

/** Who is to stand where, and what plays: said before a take. */
juce::String reminder(const SessionView& view)
{
    const auto stance = parseStance(view.trial.hereNow);
    const auto* monitor = monitorHere(view);
    if (!stance || monitor == nullptr)
        return "The take is filed under the stance that stands here: choose its cell on the board.";
    const juce::String name(stance->monitor), lie(stance->orientation);
    if (view.practiceRoom)
        return "The practice room stands " + name + " there by itself, " + lie +
               ", and reads it at the seat.";
    const bool pair = monitor->kind == Monitor::Kind::pair;
    return "Set the monitor selector to " + name + ". " + (pair ? "Both cabinets: " : "The cabinet: ") + lie +
           ". The microphone at the seat, at the height of your ears; then keep still and quiet.";
}

CaptureSaying whileTaking(const SessionView& view, const LiveState& live)
{
    const auto stance = view.takeUnderWay.empty() ? hereNow(view) : juce::String(view.takeUnderWay);
    return { timeSaying(view, live), true,
             stance + ": take " + nextTakeNumber(view) +
                 (view.practiceRoom ? ". Nothing sounds." : ". Keep still and quiet."),
             view.practiceRoom ? "The practice room reads it; the mix goes on."
                               : "The mix is faded out until the take ends." };
}

CaptureSaying whileUnderWay(const SessionView& view, const LiveState& live)
{
    switch (live.phase)
    {
    case Phase::preparing:
        return {
            "Getting the sweep ready.", false, hereNow(view) + ": take " + nextTakeNumber(view) + ".", {}
        };
    case Phase::armed:
        return { "Armed: the host may start it.",
                 false,
                 hereNow(view) + ": take " + nextTakeNumber(view) + ". Stop disarms it.",
                 {} };
    case Phase::stopping:
        return { "Stopping.", false, "The sweep fades to silence.", {} };
    case Phase::analysing:
        return { "Looking at the take.", false, "The take is over: you may move.", {} };
    default:
        return whileTaking(view, live);
    }
}
}

std::shared_ptr<const TakeCurves> takeOfThisSetUp(const SessionView& view)
{
    const auto found = view.trial.curves.find(view.trial.hereNow);
    if (found == view.trial.curves.end() || found->second.newest == nullptr ||
        found->second.newest->setUp != view.trial.hereSetUp)
        return nullptr;
    return found->second.newest;
}

juce::String returnRouting()
{
    return "Give this plugin a side-chain in the host, and send it the microphone on channel 1 and, if there "
           "is "
           "one, a loopback of the output on channel 2.";
}

TakeAct takeActOf(const SessionView& view, const LiveState& live)
{
    using enum TakeAct::Kind;
    if (live.mustAcknowledge)
        return { acknowledge, "Let the mix back", {} };
    if (isUnderWay(live))
        return { none, {}, {} };
    if (!view.careWasRead && !view.practiceRoom)
        return { readCare, "Read the page of care first", {} };
    if (view.trial.hereNow.empty())
        return { chooseStance, "Choose what stands here on the board",
                 "A take is filed under the stance that stands here: choose its cell." };
    if (live.sampleRateHz <= 0.0)
        return { start, "Start", "The host is not running the audio: switch its audio on." };
    if (live.hostIsRendering)
        return { start, "Start", "The host is rendering a file: take it after the render." };
    if (!live.returnConnected && !view.practiceRoom)
        return { start, "Start", "Nothing is connected to the Return. " + returnRouting() };
    return { start, "Start", {} };
}

CaptureSaying captureSayingOf(const SessionView& view, const LiveState& live)
{
    if (isUnderWay(live))
        return whileUnderWay(view, live);
    if (live.mustAcknowledge)
        return { "Stopped. The output is silent.",
                 false,
                 "The mix comes back when you say so. See first to what stopped it.",
                 {} };
    if (view.trial.hereNow.empty())
        return { "What stands here?",
                 false,
                 "Choose a cell on the board: one pair, and how it stands. The take is filed under it.",
                 {} };
    if (const auto take = takeOfThisSetUp(view))
        return { "Take " + juce::String(take->take) + (take->doubtful() ? ": doubtful." : ": good."),
                 false,
                 hereNow(view) + ", set-up " + juce::String(take->setUp) +
                     ". Another take shows what the microphone and the air do; lifting it and standing it up "
                     "again shows what putting it back changes.",
                 {} };
    const bool ready =
        takeActOf(view, live).whyOff.isEmpty() && takeActOf(view, live).kind == TakeAct::Kind::start;
    const juce::String rest = ready ? " stands here. Ready." : " stands here.";
    const float measure = headlineMeasure - textWidth(rest, headlineSize, Weight::semibold);
    return {
        fitted(hereNow(view), measure, headlineSize, Weight::semibold) + rest, false, reminder(view), {}
    };
}

Caution cautionOf(const SessionView& view)
{
    if (view.practiceRoom)
        return { false,
                 "The practice room takes it: nothing sounds, and the level is that of its monitors." };
    const auto level = figureWords(view.plan.levelDbfs, levelFigure);
    if (view.plan.levelDbfs > raisedLevelDbfs)
        return { true, "The sweep plays at " + level + ", raised above " +
                           figureWords(raisedLevelDbfs, levelFigure) +
                           ". Turn the monitors down and stand clear." };
    return { false, "The sweep plays at " + level + " at the most, " +
                        figureWords(view.plan.fromHz, bandFigure) + said("–") +
                        figureWords(view.plan.toHz / 1000.0, { 0, 1e3, 1, 1, "kHz" }) +
                        ". Turn the monitors down first." };
}

}
