#include "Editor/FirstSteps.h"

#include "Editor/CaptureSayings.h"
#include "Editor/Figures.h"

#include <array>

namespace plumbline
{

namespace
{
constexpr std::array counts{ "None", "One", "Two", "Three", "Four", "Five", "Six" };
constexpr std::array ordinals{
    "a first", "a second", "a third", "a fourth", "a fifth", "a sixth", "another"
};

juce::String countWord(std::size_t count)
{
    return count < counts.size() ? juce::String(counts[count]) : juce::String(count);
}

ConnectSaying sayWhere()
{
    return { "Where do you begin?",
             "In the practice room you learn the work in silence. Both ways take the same four steps, and "
             "you can change over at any time.",
             "Begin in the practice room", "Or choose the microphone below." };
}

ConnectSaying sayPairs(std::size_t count)
{
    const auto more =
        "Each pair gets a mark and a colour and keeps them everywhere. Sizes make the drawing true "
        "and help to explain a dip; leave out what you do not know.";
    if (count == 0)
        return { "Name the pairs you want to compare.", more, "Name a pair",
                 "A single monitor can be named too." };
    const juce::String ordinal(ordinals[std::min(count, ordinals.size() - 1)]);
    return { countWord(count) + (count == 1 ? " pair so far. Is there " : " pairs so far. Is there ") +
                 ordinal + "?",
             more, countWord(count) + (count == 1 ? " is enough" : " are enough"),
             "Another can be named now or at any time." };
}

ConnectSaying sayCare()
{
    return {
        "One page before anything sounds.",
        "Hearing, small drivers, heavy monitors on their side, mains: what to mind before a sweep is played "
        "and a cabinet turned. It is asked for once on this computer.",
        "Read the page of care", "Nothing sounds before it."
    };
}

juce::String connectionWords(const SessionView& view, const LiveState& live)
{
    if (view.practiceRoom)
        return rateWords(live) + " The practice room stands in for the Return: nothing sounds.";
    return rateWords(live) + (live.returnConnected
                                  ? juce::String(" The Return is connected.")
                                  : " Nothing is connected to the Return. " + returnRouting());
}
}

FirstSteps::Step FirstSteps::next() const noexcept
{
    if (!whereTold)
        return where;
    if (!pairsTold)
        return pairs;
    if (!careRead && !careCanWait)
        return care;
    return taken ? all : firstTake;
}

bool FirstSteps::isDone(Step step) const noexcept
{
    switch (step)
    {
    case where:
        return whereTold;
    case pairs:
        return pairsTold;
    case care:
        return careRead;
    default:
        return taken;
    }
}

juce::String FirstSteps::stateOf(Step step) const
{
    if (isDone(step))
        return step == care ? "read" : step == firstTake ? "taken" : "told";
    if (step == next())
        return "now";
    return step == care ? "to read" : step == firstTake ? "then" : "to tell";
}

FirstSteps firstStepsOf(const SessionView& view, const LiveState& live, const ToldHere& told)
{
    const auto& trial = *view.trial.trial;
    FirstSteps steps;
    steps.taken = !trial.takes.empty() || !view.trial.curves.empty();
    steps.whereTold = view.practiceRoom || live.returnConnected || told.where || steps.taken;
    steps.pairsTold =
        steps.taken || (!trial.monitors.empty() && (told.pairsAreEnough || !view.trial.hereNow.empty()));
    steps.careRead = view.careWasRead;
    steps.careCanWait = view.practiceRoom;
    return steps;
}

juce::String rateWords(const LiveState& live)
{
    if (live.sampleRateHz <= 0.0)
        return "The host is not running the audio.";
    return figureWords(live.sampleRateHz / 1000.0, { 0.0, 1e4, 1.0, 2, "kHz" }) + ".";
}

ConnectSaying connectSayingOf(const FirstSteps& steps, const SessionView& view, const LiveState& live)
{
    switch (steps.next())
    {
    case FirstSteps::where:
        return sayWhere();
    case FirstSteps::pairs:
        return sayPairs(view.trial.trial->monitors.size());
    case FirstSteps::care:
        return sayCare();
    case FirstSteps::firstTake:
        return { "All is told. Now the first take.", connectionWords(view, live), "Go to Capture",
                 "Names and sizes can be changed at any time." };
    case FirstSteps::all:
        break;
    }
    return { "Ready for more takes.", connectionWords(view, live), "Go to Capture",
             "Names and sizes can be changed at any time." };
}

juce::String monitorNameRefusal(const juce::String& name, const juce::String& former, const Trial& trial)
{
    constexpr int longest = 40;
    if (name.isEmpty())
        return "A pair needs a name. Nothing was changed.";
    if (name.containsAnyOf(",\"[]"))
        return "A name goes without commas, brackets and quotes. Nothing was changed.";
    if (name.length() > longest)
        return "A name has at most 40 letters. Nothing was changed.";
    for (const auto& monitor : trial.monitors)
        if (name == juce::String(monitor.name) && name != former)
            return name + " is on the board already. Nothing was changed.";
    return {};
}

}
