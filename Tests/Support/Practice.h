#pragma once

#include "Command/PracticeSession.h"
#include "Files/ScenarioFile.h"
#include "PracticeRoom/ChainResponse.h"
#include "PracticeRoom/PracticeRoom.h"

#include <cmath>
#include <numbers>

namespace plumbline::test
{

inline Scenario shipped(const char* name)
{
    return readScenario(std::string(PLUMBLINE_PRESETS) + "/practice/" + name).value();
}

/** The seat's path as it stands exactly in place. */
inline RealisedPath pathOf(const PracticeRoom& room, std::size_t stance, RoomSide side,
                           const Vec3& microphone)
{
    return room.path(room.standing(stance), side, microphone);
}

/** |H|^2 of the truth, microphone's own response taken off, averaged over 1/N octave on a dense grid. */
inline double smoothedTruthDb(const PracticeRoom& room, const RealisedPath& path, double hz, int perOctave)
{
    const double low = hz * std::exp2(-0.5 / perOctave), high = hz * std::exp2(0.5 / perOctave);
    const int points = std::max(16, static_cast<int>((high - low) / 0.7));
    std::vector<double> frequencies;
    for (int i = 0; i < points; ++i)
        frequencies.push_back(low + (high - low) * (i + 0.5) / points);
    double sum = 0.0;
    for (const auto value : room.truthOverReference(path, frequencies))
        sum += std::norm(value);
    return 10.0 * std::log10(sum / points) - microphoneResponseDb(room.scenario().microphone, hz);
}

/** Take of a stance at the seat, exactly in place. */
inline TakeRecord cleanTake(const PracticeRoom& room, std::size_t stance, const AnalysisSettings& settings)
{
    PracticeSession session(room, 512);
    return session.take({ stance, 0, 0, 0 }, true, settings).value();
}

inline AnalysisSettings exactSettings(const Scenario& scenario)
{
    AnalysisSettings settings;
    settings.smoothing.perOctave = 0;
    settings.window.kind = WindowChoice::Kind::full;
    settings.microphone = practiceMicrophone(scenario);
    return settings;
}

}
