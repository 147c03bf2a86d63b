#pragma once

#include "Files/Json.h"
#include "PracticeRoom/PracticeRoom.h"

namespace plumbline
{

inline constexpr int truthSchemaVersion = 1;

/** "plumbline/truth/1": the exact response of every stance, side and position of a scenario as it was
    simulated, on the frequencies of the curves: microphone over reference with the microphone's own response
    taken off; where there is no loopback, microphone over output. Exactly in place, without noise, jitter and
    put-back error.

    The phase has `travelTimeSeconds` removed: the tweeter's way through the air, plus the latency where there
    is no loopback. */
Json truthJson(const PracticeRoom& room);

}
