// What could pass here for the wrong reason: a difference so large that anything finds it, or a spread so
// small that everything is found. So a step of known place and size is planted in takes that scatter by a
// known amount, half of them drawn again for many seeds; where nothing was planted nothing may be found more
// often than the rate allows.

#include "Trial/Difference.h"
#include "Dsp/Random.h"
#include "Trial/Boards.h"

using namespace plumbline;
using namespace plumbline::test;

namespace
{
/** Scatter that hangs together over an octave or so, as a microphone's does: sines of random phase. */
Shape scatter(double sdDb, Random& random)
{
    std::vector<double> phases;
    for (int i = 0; i < 4; ++i)
        phases.push_back(6.2831853 * random.uniform());
    return [=](double hz)
    {
        double sum = 0.0;
        for (std::size_t i = 0; i < 4; ++i)
            sum += std::sin((1.0 + 0.7 * static_cast<double>(i)) * 2.0 * std::log2(hz) + phases[i]);
        return sdDb * sum / std::sqrt(2.0);
    };
}

StanceData scattered(const std::string& name, const Shape& left, const Shape& right, int takes, double sdDb,
                     Random& random)
{
    std::vector<TakeData> list;
    for (int i = 0; i < takes; ++i)
        list.push_back(takeOf(plus(left, scatter(sdDb, random)), plus(right, scatter(sdDb, random))));
    return stanceOf(name, list);
}
}

TEST_CASE("A planted difference is found where it is, with its size, sign and side, and named")
{
    Random random(5);
    const std::vector<StanceData> stances{
        scattered("Heron 6, side, tweeters out", step(4000.0, 8000.0, -3.0), flat(0.0), 5, 0.2, random),
        scattered("Heron 6, upright", flat(0.0), flat(0.0), 5, 0.2, random)
    };
    const MatchedBoard board(stances, usualMatchBand);
    const Differences differences(board);
    const auto regions = differences.regions(0, 1);
    REQUIRE(regions.size() == 1);
    CHECK(regions[0].side == 0);
    CHECK(regions[0].fromHz == Approx(4000.0).epsilon(0.06));
    CHECK(regions[0].toHz == Approx(8000.0).epsilon(0.06));
    CHECK(std::abs(regions[0].differenceDb + 3.0) <= regions[0].plusMinusDb);
    CHECK(regions[0].plusMinusDb < 0.8);
    CHECK(regions[0].basis == SpreadBasis::untouchedOwn);
    CHECK_FALSE(regions[0].firm);
    CHECK_THAT(regionWords(regions[0], board), Catch::Contains("kHz: ") &&
                                                   Catch::Contains(" dB lower on its side, left") &&
                                                   Catch::Contains("\u00b1"));
    const auto turned = differences.regions(1, 0);
    REQUIRE(turned.size() == 1);
    CHECK(turned[0].differenceDb == Approx(-regions[0].differenceDb));
    CHECK_THAT(regionWords(turned[0], board), Catch::Contains("higher upright"));
}

TEST_CASE("Where nothing differs a region is named in one trial of twenty at most")
{
    int named = 0;
    constexpr int trials = 200;
    for (int seed = 1; seed <= trials; ++seed)
    {
        Random random(static_cast<std::uint64_t>(seed));
        const std::vector<StanceData> stances{
            scattered("Heron 6, upright", slope(-0.5), slope(-0.5), 3, 0.3, random),
            scattered("Tarn 5, upright", slope(-0.5), slope(-0.5), 3, 0.3, random)
        };
        const MatchedBoard board(stances, usualMatchBand);
        named += Differences(board).regions(0, 1).empty() ? 0 : 1;
    }
    CHECK(named <= 18); // 5 % and three standard deviations of it
}

TEST_CASE("Regions of opposite sign are kept apart, and so are those parted by unknown bands")
{
    Random random(7);
    const auto shape = plus(step(4000.0, 6000.0, 3.0), step(6001.0, 9000.0, -3.0));
    const std::vector<StanceData> stances{ scattered("Heron 6, upright", shape, shape, 5, 0.1, random),
                                           scattered("Tarn 5, upright", flat(0), flat(0), 5, 0.1, random) };
    const MatchedBoard board(stances, usualMatchBand);
    const auto regions = Differences(board).regions(0, 1);
    REQUIRE(regions.size() == 4); // two a side
    CHECK(regions[0].differenceDb > 2.0);
    CHECK(regions[1].differenceDb < -2.0);
    auto holed = stances;
    for (auto& stance : holed)
        for (auto& take : stance.takes)
            for (auto& side : take.sides)
                for (double hz : { 5039.684, 4756.828, 5000.0 })
                    if (const auto at = curveGrid::indexOf(hz))
                        side.levelDb[*at] = unknownValue;
    const MatchedBoard parted(holed, usualMatchBand);
    CHECK(Differences(parted).regions(0, 1).size() == 6);
}

TEST_CASE("Of one take each the difference is shown and no region is claimed")
{
    const std::vector<StanceData> stances{ stanceOf("Heron 6, upright",
                                                    { takeOf(step(4000, 8000, -6), flat(0)) }),
                                           stanceOf("Tarn 5, upright", { takeOf(flat(0), flat(0)) }) };
    const MatchedBoard board(stances, usualMatchBand);
    const Differences differences(board);
    CHECK(differences.regions(0, 1).empty());
    const auto curve = differences.curve(0, 1, 0);
    CHECK(curve.differenceDb[*curveGrid::indexOf(4000.0 * std::exp2(0.5))] == Approx(-6.0));
    CHECK(std::isnan(curve.halfWidthDb[300]));
}

TEST_CASE("Untouched and put-back spread over frequency")
{
    // Two set-ups 2 dB apart above 3 kHz, takes 0.4 dB apart above 6 kHz.
    std::vector<TakeData> takes;
    for (const int setUp : { 1, 2 })
        for (const double off : { -0.2, 0.2 })
            takes.push_back(takeOf(plus(step(3001, 20000, setUp == 1 ? -1.0 : 1.0), step(6001, 20000, off)),
                                   flat(0), setUp));
    const std::vector<StanceData> stances{ stanceOf("Heron 6, upright", takes) };
    const MatchedBoard board(stances, usualMatchBand);
    const auto spread = Differences(board).spread(0);
    const auto low = *curveGrid::indexOf(1000.0), middle = *curveGrid::indexOf(4000.0),
               high = *curveGrid::indexOf(8000.0);
    CHECK(spread.untouchedDb[low] == Approx(0.0).margin(1e-9));
    CHECK(spread.untouchedDb[middle] == Approx(0.0).margin(1e-9));
    CHECK(spread.untouchedDb[high] == Approx(std::sqrt(0.08)));
    CHECK(spread.putBackDb[low] == Approx(0.0).margin(1e-9));
    CHECK(spread.putBackDb[middle] == Approx(std::sqrt(2.0)));
    CHECK(spread.putBackDb[high] == Approx(std::sqrt(2.0)));
    CHECK(spread.untouchedFreedom == 2.0);
    CHECK(spread.putBackFreedom == 1.0);
}
