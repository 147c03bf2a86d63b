// What could pass here for the wrong reason: sentences that sound right whatever was measured. So boards are
// made that must lead to different sentences, and each sentence is looked for where it belongs and where it
// must not stand.

#include "Trial/Comparison.h"
#include "Trial/Boards.h"

#include <numeric>

using namespace plumbline;
using namespace plumbline::test;

namespace
{
/** A stance whose unevenness is a ripple of this size, taken so often; takes scatter by a hundredth of a
    dB. */
StanceData rippled(const std::string& name, double ripple, int setUps, int takes)
{
    std::vector<TakeData> list;
    for (int setUp = 1; setUp <= setUps; ++setUp)
        for (int take = 1; take <= takes; ++take)
        {
            const double size = ripple * (1.0 + 0.01 * setUp + 0.004 * take);
            const Shape wave = [=](double hz) { return size * std::sin(5.0 * std::log2(hz)); };
            list.push_back(takeOf(wave, wave, setUp));
        }
    return stanceOf(name, list);
}

std::string said(const std::vector<StanceData>& stances)
{
    const auto words = compare(stances, {})->words;
    for (const auto& sentence : words)
        CHECK_THAT(sentence, Catch::EndsWith("."));
    return std::accumulate(words.begin(), words.end(), std::string(),
                           [](const auto& all, const auto& one) { return all + one + '\n'; });
}
}

TEST_CASE("With two set-ups each the leader is named firmly, with what decided it")
{
    const auto text = said({ rippled("Tarn 5, upright", 3.0, 2, 2), rippled("Heron 6, upright", 1.0, 2, 2) });
    CHECK_THAT(text, Catch::StartsWith("Heron 6, upright leads.\n"));
    CHECK_THAT(text,
               Catch::Contains("Against Tarn 5, upright it is better on ") && Catch::Contains("evenness ("));
    CHECK_THAT(text, Catch::Contains("comes first 99 times of 100"));
    CHECK_THAT(text, !Catch::Contains("assumes"));
}

TEST_CASE("From one set-up each the answer assumes that the pair returns exactly, and asks for it")
{
    const auto text = said({ rippled("Tarn 5, upright", 3.0, 1, 3), rippled("Heron 6, upright", 1.0, 1, 3) });
    CHECK_THAT(text, Catch::Contains("leads, not firmly: this assumes the pair returns exactly."));
    CHECK_THAT(text,
               Catch::Contains("Next: lift and re-stand Tarn 5, upright and Heron 6, upright once more"));
}

TEST_CASE("Identical stances have no leader")
{
    const auto text = said({ rippled("Tarn 5, upright", 2.0, 2, 2), rippled("Heron 6, upright", 2.0, 2, 2) });
    CHECK_THAT(text, Catch::StartsWith("No stance leads: all are too close to call.\n"));
    CHECK_THAT(text, Catch::Contains("every reading is too close to call"));
}

TEST_CASE("A region is told of the same pair stood otherwise")
{
    auto side = rippled("Heron 6, side, tweeters out", 1.0, 2, 2);
    for (auto& take : side.takes)
        for (auto& one : take.sides)
            for (std::size_t i = 0; i < one.levelDb.size(); ++i)
                if (const double hz = curveGrid::frequencyHz(i); hz > 4000.0 && hz < 9000.0)
                    one.levelDb[i] -= 3.0 + 0.01 * take.setUp;
    const auto text = said({ side, rippled("Heron 6, upright", 1.0, 2, 2) });
    CHECK_THAT(text, Catch::Contains("Heron 6, side, tweeters out against Heron 6, upright, ") &&
                         Catch::Contains("dB lower on its side"));
}

TEST_CASE("No stance and a single one are said to be so")
{
    CHECK_THAT(said({}), Catch::StartsWith("There is nothing to compare yet"));
    CHECK_THAT(said({ rippled("Heron 6, upright", 1.0, 1, 2) }),
               Catch::StartsWith("Only Heron 6, upright was measured"));
}

TEST_CASE("Every pair has a verdict on every reading with a better side, and readings are whole")
{
    const auto result =
        compare({ rippled("Tarn 5, upright", 3.0, 2, 2), rippled("Heron 6, upright", 1.0, 2, 2),
                  rippled("Osier 8, upright", 2.0, 2, 2) },
                {});
    std::size_t judged = 0;
    for (const auto& reading : result->readings)
    {
        judged += reading.hasBetterSide() ? 1 : 0;
        CHECK_FALSE(reading.name.empty());
        CHECK_FALSE(reading.unit.empty());
        CHECK_FALSE(reading.definition.empty());
        CHECK_FALSE(reading.source.empty());
        CHECK(reading.step > 0.0);
    }
    CHECK(result->verdicts.size() == 3 * judged);
    CHECK(result->between(2, 0).size() == judged);
    CHECK(result->order.places.size() == 3);
    CHECK(result->order.places[0].stance == 1);
    CHECK(result->values.size() == 3);
}

TEST_CASE("Single monitors and pairs may share a board")
{
    auto single = rippled("Osier 8, upright", 1.0, 2, 2);
    for (auto& take : single.takes)
        take.sides.resize(1);
    const auto result = compare({ rippled("Heron 6, upright", 1.5, 2, 2), single }, {});
    REQUIRE(result->board->stances().size() == 2);
    for (std::size_t r = 0; r < result->readings.size(); ++r)
        if (result->readings[r].name.rfind("pair match", 0) == 0)
            CHECK_FALSE(result->values[1][r].known());
    CHECK(result->order.counted.size() > 0);
}
