// What could pass here for the wrong reason: the largest of many noisy bands, which is large without any
// cause. So scatter is taken off, and the planted band must be found by its own size whatever its sign and
// side.

#include "Trial/Bands.h"
#include "Trial/Boards.h"

using namespace plumbline;
using namespace plumbline::test;

TEST_CASE("The worst band is the one planted, up or down, left or right")
{
    const auto& band = thirdOctaves()[bandsFromTo(2500, 2500)[0]];
    // What one band of 21 does to the line through all of them: its own share of mean and slope (place 14 of
    // 0..20).
    const double leverage = 1.0 / 21.0 + 16.0 / 770.0;
    for (const double size : { 5.0, -5.0 })
        for (const bool left : { true, false })
        {
            const auto bump = step(band.lowHz, band.highHz, size);
            const std::vector<StanceData> stances{ stanceOf(
                "Heron 6, upright", { left ? takeOf(bump, flat(0)) : takeOf(flat(0), bump) }) };
            CHECK(valueOf("worst band", stances).value == Approx(5.0 * (1.0 - leverage)).margin(0.25));
        }
    CHECK(valueOf("worst band", oneTake(slope(-1.0))).value == Approx(0.0).margin(0.01));
}
