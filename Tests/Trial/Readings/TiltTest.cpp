// What could pass here for the wrong reason: the right slope with the wrong sign or scale; so both signs are
// tried, and a level that is no slope.

#include "Trial/Boards.h"

using namespace plumbline;
using namespace plumbline::test;

TEST_CASE("Tilt is the slope in dB an octave and takes no part in verdicts")
{
    for (const double perOctave : { -1.2, 0.0, 0.7 })
        CHECK(valueOf("tilt", oneTake(plus(slope(perOctave), flat(-20)))).value ==
              Approx(perOctave).margin(1e-4));
    CHECK_FALSE(readingNamed("tilt").hasBetterSide());
}
