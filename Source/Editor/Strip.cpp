#include "Editor/Strip.h"

namespace plumbline
{

namespace
{

using Phase = LiveState::Phase;

const juce::String theMix = "You hear the mix.";
const juce::String noAudio = "Nothing is heard through Plumbline: no audio runs yet.";
const juce::String rendering = "You hear the mix. A file is being rendered, so no take begins.";
const juce::String silent = "Silent until you let the mix back.";
const juce::String fading = "Fading to silence.";
const juce::String armed = "You hear the mix, until the host starts the take.";
const juce::String practice = "You hear the mix. The practice room is on: a take makes no sound.";
const juce::String practiceTake = "Practice room: nothing sounds. The mix is faded out until the take ends.";
const juce::String fadedOut = " The mix is faded out until the take ends.";
// Our own application has no mix.
const juce::String nothingAlone = "Plumbline plays nothing now.";
const juce::String practiceAlone = "Plumbline plays nothing. The practice room is on: a take makes no sound.";
const juce::String practiceTakeAlone = "Practice room: nothing sounds.";

/** What the stream plays at a time. */
juce::String played(const TakeTimes& times, double seconds)
{
    const auto leftEnds = times.quietSeconds + times.sweepSeconds;
    const auto rightBegins = leftEnds + times.restSeconds;
    if (seconds < times.quietSeconds)
        return "Quiet, before the sweep.";
    if (seconds < leftEnds)
        return times.pair ? "The sweep, left." : "The sweep.";
    if (times.pair && seconds < rightBegins)
        return "A rest, before the right sweep.";
    if (times.pair && seconds < rightBegins + times.sweepSeconds)
        return "The sweep, right.";
    return "Quiet, while the room dies away.";
}

}

juce::String heard(const SessionView& view, const LiveState& live)
{
    if (live.mustAcknowledge)
        return silent;
    if (live.phase == Phase::stopping)
        return fading;
    if (live.phase == Phase::taking)
    {
        if (view.practiceRoom)
            return view.standalone ? practiceTakeAlone : practiceTake;
        return played(view.times, live.elapsedSeconds) + (view.standalone ? juce::String() : fadedOut);
    }
    if (live.sampleRateHz <= 0.0)
        return noAudio;
    if (live.hostIsRendering)
        return rendering;
    if (live.phase == Phase::armed)
        return armed;
    if (view.standalone)
        return view.practiceRoom ? practiceAlone : nothingAlone;
    return view.practiceRoom ? practice : theMix;
}

Strip::Strip(WindowContext& windowContext) : Part(windowContext)
{
    setBounds(0, place::stripTop, place::width, place::height - place::stripTop);
    read();
}

void Strip::viewChanged()
{
    read();
    repaint();
}

void Strip::liveChanged()
{
    read();
}

void Strip::read()
{
    const auto now = heard(view(), context.live);
    if (now == words)
        return;
    words = now;
    setTitle(now);
    repaint();
}

void Strip::paint(juce::Graphics& g)
{
    const auto pen = ink(g);
    pen.rule(0.0f, 0.0f, place::width);
    pen.text(place::margin, 38.0f, words, 15.0f, palette().ink, Weight::medium);
}

}
