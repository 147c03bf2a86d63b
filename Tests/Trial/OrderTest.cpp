// What could pass here for the wrong reason: an order read off one reading. Two readings pull different ways
// here and the weights decide; ties are held against Tukey's table, certainty against the t distribution.

#include "Trial/Order.h"
#include "Dsp/Statistics.h"
#include "Dsp/StudentisedRange.h"
#include "Trial/Boards.h"

using namespace plumbline;
using namespace plumbline::test;

namespace
{
/** Reads travel time of one side, in ms; `step` as given. */
Reading timeOf(const std::string& name, std::size_t side, double step)
{
    auto reading = namedReading(name, "ms", "time of a side", "none", {});
    reading.step = step;
    reading.of = [side](const ReadingUnit& unit)
    {
        return meanOverTakes(unit.seat, [side](const MatchedTake& take)
                             { return std::vector{ 1000.0 * *take.take->sides[side].travelSeconds }; });
    };
    return reading;
}

StanceData stance(const std::string& name, const std::vector<std::pair<double, double>>& setUps)
{
    std::vector<TakeData> takes;
    for (const auto& [left, right] : setUps)
    {
        auto take = takeOf(flat(0), flat(0), static_cast<int>(takes.size()) + 1);
        take.sides[0].travelSeconds = 0.001 * left;
        take.sides[1].travelSeconds = 0.001 * right;
        takes.push_back(take);
    }
    return stanceOf(name, takes);
}

StanceOrder ordered(const std::vector<StanceData>& stances, const ReadingWeights& weights = {})
{
    const MatchedBoard board(stances, usualMatchBand);
    const std::vector<Reading> readings{ timeOf("left", 0, 0.5), timeOf("right", 1, 0.5) };
    std::vector<ReadingEstimate> estimates;
    for (const auto& reading : readings)
        estimates.emplace_back(board, reading);
    return orderOf(board, readings, estimates, weights);
}

const std::vector<StanceData> opposed{ stance("Heron 6, upright", { { 1.0, 5.0 }, { 1.1, 5.1 } }),
                                       stance("Tarn 5, upright", { { 2.0, 1.0 }, { 2.1, 1.1 } }),
                                       stance("Osier 8, upright", { { 3.0, 3.0 }, { 3.1, 3.1 } }) };
}

TEST_CASE("Weights decide who leads where readings pull different ways")
{
    CHECK(ordered(opposed, { { "right", 0.0 } }).places[0].stance == 0);
    CHECK(ordered(opposed, { { "left", 0.0 } }).places[0].stance == 1);
    const auto both = ordered(opposed);
    CHECK(both.places[0].stance == 1); // 2 + 1 against 1 + 5 and 3 + 3
    CHECK(both.places[2].pointsBehind == Approx(3.0 / 0.5));
    CHECK(both.counted.size() == 2);
    CHECK(ordered(opposed, { { "left", 3.0 } }).places[0].stance == 1); // 7 against 8
    CHECK(ordered(opposed, { { "left", 5.0 } }).places[0].stance == 0); // 10 against 11
}

TEST_CASE("Ties follow the studentised range of the whole board")
{
    // Left alone: means 1.05, 2.05, 3.05; variance of a set-up 0.005 each, pooled with 3 degrees of freedom.
    const auto order = ordered(opposed, { { "right", 0.0 } });
    const double margin = studentisedRangeQuantile(0.95, 3, 3.0) * std::sqrt(0.005 / 2.0) / 0.5;
    CHECK(order.places[1].plusMinus == Approx(margin).epsilon(1e-5));
    CHECK(order.places[0].tiedWith.empty());
    // Spread a hundred times as large: all are tied.
    const auto loose = ordered({ stance("Heron 6, upright", { { 1.0, 5 }, { 2.0, 5 } }),
                                 stance("Tarn 5, upright", { { 2.0, 5 }, { 3.0, 5 } }),
                                 stance("Osier 8, upright", { { 3.0, 5 }, { 4.0, 5 } }) },
                               { { "right", 0.0 } });
    CHECK(loose.places[0].tiedWith.size() == 2);
    CHECK(loose.places[0].stance == 0);
}

TEST_CASE("Drawn again, one comes before the other as often as Student's t says")
{
    // One common s.d. drawn first: the difference over its error is exactly t with the pooled degrees of
    // freedom.
    const auto order = ordered({ stance("Heron 6, upright", { { 1.0, 5 }, { 1.4, 5 } }),
                                 stance("Tarn 5, upright", { { 1.5, 5 }, { 1.9, 5 } }) },
                               { { "right", 0.0 } });
    const double t = 0.5 / std::sqrt(0.08 * (0.5 + 0.5));
    CHECK(order.ahead[0][1] == Approx(studentTCdf(t, 2.0)).margin(0.02)); // 4,000 draws: s.d. 0.005
    CHECK(order.ahead[0][1] + order.ahead[1][0] == Approx(1.0));
    CHECK(order.places[0].firstShare == Approx(order.ahead[0][1]));
}

TEST_CASE("A reading that one stance lacks takes no part, and nothing measured twice gives no certainty")
{
    auto lacking = opposed;
    for (auto& take : lacking[2].takes)
        take.sides[0].travelSeconds = unknownValue;
    CHECK(ordered(lacking).counted == std::vector<std::size_t>{ 1 });
    const auto once =
        ordered({ stance("Heron 6, upright", { { 1.0, 5 } }), stance("Tarn 5, upright", { { 9.0, 5 } }) });
    CHECK(once.places[0].stance == 0);
    CHECK(once.places[0].tiedWith.size() == 1);
    CHECK(std::isnan(once.places[0].firstShare));
}

TEST_CASE("The same takes always give the same order and shares")
{
    const auto a = ordered(opposed), b = ordered(opposed);
    CHECK(a.ahead == b.ahead);
}
