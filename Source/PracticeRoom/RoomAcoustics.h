#pragma once

#include "PracticeRoom/Scenario.h"

namespace plumbline
{

/** A studio as sound meets it. Reflections are real and without phase: sqrt(1 - absorption). */
struct RoomAcoustics
{
    RoomSize size;
    double speedMps = 343.2;
    BandValues walls{}; ///< amplitude left after one reflection
    BandValues floor{};
    BandValues ceiling{};
    BandValues t60Seconds{}; ///< by Eyring's formula from the absorption; infinite where nothing is swallowed
    BandValues deskGain{};   ///< amplitude of the desk's reflection
    std::optional<DeskModel> desk;
    double reachMetres = 0.0; ///< images farther away are not heard; the last 15 % before it fade
};

/** [any] Decay times and absorption are tied by Eyring (JASA 1 (1930) 217): T = 24 ln 10 V / (-c S ln(1 -
    a)), a the mean over the surfaces. The reach is the longest decay time, at least 1.2 diagonals of the
    room, at most 1.2 s. */
RoomAcoustics acousticsOf(const Studio& studio);

/** Frequency shape of a desk's reflection: a desk is too small to mirror the lowest notes, too rough for
    the highest. */
double deskShape(double frequencyHz);

}
