// What could pass here for the wrong reason: a grid that is right where frequencies are whole numbers; so all
// of its points go there and back, and neighbours between the points are refused.

#include "Trial/StanceData.h"

#include <catch2/catch.hpp>
#include <cmath>

using namespace plumbline;

TEST_CASE("Every point of the grid is found again, and nothing between")
{
    for (std::size_t i = 0; i < curveGrid::points; ++i)
    {
        const double hz = curveGrid::frequencyHz(i);
        REQUIRE(curveGrid::indexOf(hz) == i);
        CHECK_FALSE(curveGrid::indexOf(hz * 1.003));
    }
    CHECK(curveGrid::frequencyHz(288) == Approx(1000.0));
    CHECK(curveGrid::frequencyHz(336) == Approx(2000.0));
    CHECK_FALSE(curveGrid::indexOf(0.0));
    CHECK_FALSE(curveGrid::indexOf(-5.0));
    CHECK_FALSE(curveGrid::indexOf(2e5));
}

TEST_CASE("A take's analysis is laid on the grid; what is not known stays unknown")
{
    TakeAnalysis analysis;
    analysis.sampleRateHz = 96000.0;
    analysis.settings.smoothing.perOctave = 24;
    analysis.left.response.frequencyHz = { 1000.0, 2000.0, 2345.0, 4000.0 };
    analysis.left.response.levelDb = { -10.0, -11.0, -12.0, std::nan("") };
    analysis.left.response.known = { true, false, true, true };
    analysis.left.travelTimeSeconds = 0.0042;
    analysis.left.polarity = -1;
    const auto take = takeDataOf(analysis);
    REQUIRE(take.sides.size() == 1);
    CHECK(take.sides[0].levelDb[288] == -10.0);
    CHECK(std::isnan(take.sides[0].levelDb[336]));
    CHECK(std::isnan(take.sides[0].levelDb[384]));
    int known = 0;
    for (const double level : take.sides[0].levelDb)
        known += std::isfinite(level) ? 1 : 0;
    CHECK(known == 1);
    CHECK(std::isnan(take.sides[0].noiseDb[288]));
    CHECK(take.sides[0].polarity == -1);
    CHECK(take.conditions.smoothingPerOctave == 24);
    CHECK(take.conditions.sampleRateHz == 96000.0);
    analysis.right = analysis.left;
    CHECK(takeDataOf(analysis).sides.size() == 2);
}
