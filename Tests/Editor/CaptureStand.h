#pragma once

#include "Editor/CapturePage.h"

#include "Editor/PageStand.h"

namespace plumbline::test::capture
{

using Stand = PageStand<CapturePage>;

inline FrequencyResponse flatResponse()
{
    FrequencyResponse response;
    for (double hz = 20.0; hz <= 20000.0; hz *= 1.059463)
    {
        response.frequencyHz.push_back(hz);
        response.levelDb.push_back(-20.0);
        response.phaseDeg.push_back(0.0);
        response.known.push_back(hz > 40.0);
    }
    return response;
}

inline std::shared_ptr<const TakeCurves> taken(int number, std::vector<Fault> faults = {})
{
    TakeCurves curves;
    curves.takeId = "t" + std::to_string(number);
    curves.take = number;
    curves.left = flatResponse();
    curves.right = flatResponse();
    curves.smoothing = "1/12 octave";
    curves.faults = std::move(faults);
    return std::make_shared<const TakeCurves>(std::move(curves));
}

inline SessionView ready()
{
    SessionView view;
    auto trial = std::make_shared<Trial>();
    trial->orientations = usualOrientations();
    trial->monitors.emplace_back().name = "Heron 6";
    view.trial.trial = trial;
    view.trial.hereNow = "Heron 6, upright";
    view.careWasRead = true;
    view.plan.sweepSeconds = 3.0;
    return view;
}

inline SessionView withTakeOf(std::vector<Fault> faults)
{
    auto view = ready();
    view.trial.curves["Heron 6, upright"].newest = taken(2, std::move(faults));
    return view;
}

inline LiveState quiet()
{
    LiveState live;
    live.sampleRateHz = 48000.0;
    live.returnConnected = true;
    return live;
}

inline LiveState in(LiveState::Phase phase, double elapsed = 0.0)
{
    auto live = quiet();
    live.phase = phase;
    live.elapsedSeconds = elapsed;
    return live;
}

inline juce::String plain(const juce::String& words)
{
    return words.replaceCharacter(juce::juce_wchar(0x00a0), ' ')
        .replaceCharacter(juce::juce_wchar(0x2212), '-');
}

inline juce::String headline(Stand& stand)
{
    return plain(stand->words().saying().headline);
}

inline juce::String beneath(Stand& stand)
{
    return plain(stand->words().beneath().words);
}

}
