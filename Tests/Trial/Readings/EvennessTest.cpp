// What could pass here for the wrong reason: a flat curve, which is even by any definition. A slope must
// count for nothing, and a ripple for its root mean square about the line, worked out here by the normal
// equations of its own.

#include "Trial/Bands.h"
#include "Trial/Boards.h"

using namespace plumbline;
using namespace plumbline::test;

TEST_CASE("Evenness is 0 for any slope and the stray of a ripple for a ripple")
{
    CHECK(valueOf("evenness", oneTake(flat(3.0))).value == Approx(0.0).margin(1e-9));
    CHECK(valueOf("evenness", oneTake(slope(-1.0))).value ==
          Approx(0.0).margin(0.002)); // a band's mean of a slope
    // Bands up and down by turns: +1 and -1 dB, 21 of them from 100 Hz; the line through them is nearly flat.
    const auto& bands = thirdOctaves();
    const auto comb = [&](double hz)
    {
        for (std::size_t i = 0; i < bands.size(); ++i)
            if (hz >= bands[i].lowHz && hz < bands[i].highHz)
                return i % 2 == 0 ? 1.0 : -1.0;
        return 0.0;
    };
    const double comb21 = std::sqrt(1.0 - 1.0 / (21.0 * 21.0)); // mean 1/21, slope 0 by symmetry
    CHECK(valueOf("evenness", oneTake(comb)).value ==
          Approx(comb21).margin(0.05)); // edges fall between points
}

TEST_CASE("Evenness is the mean of the sides, and unknown where a band is")
{
    const std::vector<StanceData> lame{ stanceOf("Heron 6, upright",
                                                 { takeOf(flat(0), step(2000, 4000, 6)) }) };
    const double both = valueOf("evenness", lame).value;
    CHECK(both == Approx(0.5 * valueOf("evenness", oneTake(step(2000, 4000, 6))).value).margin(1e-9));
    auto deaf = oneTake(flat(0));
    deaf[0].takes[0].sides[0].levelDb[*curveGrid::indexOf(125.0)] = unknownValue;
    CHECK_FALSE(valueOf("evenness", deaf).known());
    CHECK(readingNamed("evenness").better == Better::lower);
}
