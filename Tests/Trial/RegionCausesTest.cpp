// What could pass here for the wrong reason: words that are said of any region. The same dip is put elsewhere, the other
// way round, between other pairs, and under a trial that was not told what is needed: then nothing may be said.

#include "Trial/RegionCauses.h"

#include "Dsp/Random.h"
#include "Trial/DipCauses.h"

#include <catch2/catch.hpp>
#include <cmath>

using namespace plumbline;
using Catch::Contains;

namespace
{

/** A dip of a third of an octave about one frequency; two set-ups of two takes. */
StanceData stanceOf(const std::string& orientation, double dipHz, double dipDb, std::uint64_t seed)
{
    Random random(seed);
    StanceData stance;
    stance.stance = { "Heron 6", orientation };
    stance.monitor.name = "Heron 6";
    stance.monitor.driverSpacingCm = 17.8;
    stance.monitor.crossoverHz = 2200.0;
    for (int take = 0; take < 4; ++take)
    {
        auto& made = stance.takes.emplace_back();
        made.setUp = 1 + take / 2;
        for (int side = 0; side < 2; ++side)
        {
            auto& level = made.sides.emplace_back().levelDb = unknownCurve();
            for (std::size_t i = 0; i < level.size(); ++i)
                if (const double hz = curveGrid::frequencyHz(i); hz > 100.0 && hz < 10000.0)
                    level[i] =
                        dipDb * std::exp(-40.0 * std::pow(std::log2(hz / dipHz), 2)) + 0.05 * random.normal();
        }
    }
    return stance;
}

Trial trialThatTells()
{
    Trial trial;
    trial.placement = StancePlacement{};
    trial.placement->apartCm = 180.0;
    trial.placement->distanceCm = 160.0;
    return trial;
}

/** Where the drivers' dip should be: by hand, the tweeter outwards is farther by the spacing times the sine of the angle
    off the baffle's normal, about 100 mm. */
double expectedHz()
{
    const CabinetPlace place{ true, 0.9, std::sqrt(1.6 * 1.6 - 0.9 * 0.9), 0.0, 0.0 };
    DriverFacts facts;
    facts.paths = driverPaths(place, DriverOrientation::tweeterOut, 0.178, {});
    facts.upright = driverPaths(place, DriverOrientation::upright, 0.178, {});
    facts.crossoverHz = 2200.0;
    CHECK(facts.paths.differenceM() == Approx(0.178 * 0.9 / 1.6).margin(0.003));
    return dipOf(facts).value().frequencyHz;
}

/** How many regions something is said of, and the first of it. */
struct Said
{
    std::size_t regions = 0, times = 0;
    std::string words;
};

Said said(std::vector<StanceData> stances, const Trial& trial)
{
    const auto comparison = compare(std::move(stances), {});
    const auto causes = regionCauses(*comparison, trial);
    REQUIRE(causes.size() == comparison->regions.size());
    Said result;
    result.regions = causes.size();
    for (const auto& cause : causes)
        if (!cause.empty() && ++result.times == 1)
            result.words = cause;
    return result;
}

const std::string side = "side, tweeters out";

}

TEST_CASE("A dip where the two drivers should make one is put down to them in part, on both sides")
{
    const auto found = said({ stanceOf("upright", 2000.0, 0.0, 1), stanceOf(side, expectedHz(), -9.0, 2) },
                            trialThatTells());
    CHECK(found.times == 2);
    CHECK_THAT(found.words, Contains("may be explained in part by the two drivers"));
    CHECK_THAT(found.words, Contains("mm farther than the other"));
}

TEST_CASE("It is the same whichever stance comes first on the board")
{
    const auto found = said({ stanceOf(side, expectedHz(), -9.0, 2), stanceOf("upright", 2000.0, 0.0, 1) },
                            trialThatTells());
    CHECK(found.times == 2);
}

TEST_CASE("Of a dip elsewhere, a hump, and the upright pair's own dip nothing is said")
{
    const auto nothing = [](StanceData upright, StanceData laid)
    {
        const auto found = said({ std::move(upright), std::move(laid) }, trialThatTells());
        CHECK(found.regions >= 2);
        CHECK(found.times == 0);
    };
    nothing(stanceOf("upright", 2000.0, 0.0, 1), stanceOf(side, 600.0, -9.0, 2));
    nothing(stanceOf("upright", 2000.0, 0.0, 1), stanceOf(side, expectedHz(), 9.0, 2));
    nothing(stanceOf("upright", expectedHz(), -9.0, 1), stanceOf(side, 2000.0, 0.0, 2));
}

TEST_CASE("Nothing is said of two pairs, nor without spacing, crossover or placement")
{
    const auto quiet = [](StanceData laid, const Trial& trial)
    {
        const auto found = said({ stanceOf("upright", 2000.0, 0.0, 1), std::move(laid) }, trial);
        CHECK(found.regions >= 2);
        CHECK(found.times == 0);
    };
    auto other = stanceOf(side, expectedHz(), -9.0, 2);
    other.stance.monitor = other.monitor.name = "Tarn 5";
    quiet(other, trialThatTells());
    auto noSpacing = stanceOf(side, expectedHz(), -9.0, 2);
    noSpacing.monitor.driverSpacingCm.reset();
    quiet(noSpacing, trialThatTells());
    auto noCrossover = stanceOf(side, expectedHz(), -9.0, 2);
    noCrossover.monitor.crossoverHz.reset();
    quiet(noCrossover, trialThatTells());
    quiet(stanceOf(side, expectedHz(), -9.0, 2), Trial{});
}
