// What could pass here for the wrong reason: differences so plain that any rule calls them. The ones here lie
// at the rule's edges: called alone but not among many, real but less than listeners notice, and from one
// set-up only.

#include "Dsp/Random.h"
#include "Trial/Boards.h"
#include "Trial/Comparison.h"

using namespace plumbline;
using namespace plumbline::test;

namespace
{
/** A reading that each take carries about: its travel time on the left in ms. */
Reading carried(const std::string& name, Better better)
{
    auto reading = namedReading(name, "ms", "what a take carries", "none", {});
    reading.better = better;
    reading.of = [](const ReadingUnit& unit)
    {
        return meanOverTakes(unit.seat, [](const MatchedTake& take)
                             { return std::vector{ 1000.0 * *take.take->sides[0].travelSeconds }; });
    };
    return reading;
}

TakeData carrying(double value, int setUp)
{
    auto take = takeOf(flat(0), flat(0), setUp);
    take.sides[0].travelSeconds = 0.001 * value;
    return take;
}

/** Two stances, each value a take; set-ups of their own or one for all. */
std::vector<StanceData> twoStances(const std::vector<double>& a, const std::vector<double>& b, bool setUps)
{
    const auto takes = [&](const std::vector<double>& values)
    {
        std::vector<TakeData> list;
        for (const double value : values)
            list.push_back(carrying(value, setUps ? static_cast<int>(list.size()) + 1 : 1));
        return list;
    };
    return { stanceOf("Heron 6, upright", takes(a)), stanceOf("Tarn 5, upright", takes(b)) };
}

std::vector<Verdict> judged(const std::vector<StanceData>& stances, const std::vector<Reading>& readings,
                            const VerdictRules& rules = {})
{
    const MatchedBoard board(stances, usualMatchBand);
    std::vector<ReadingEstimate> estimates;
    for (const auto& reading : readings)
        estimates.emplace_back(board, reading);
    return verdictsOf(0, 1, readings, estimates, SpreadFacts(board.layout()), rules);
}
}

TEST_CASE("Better, worse and the side on which better lies")
{
    const auto stances = twoStances({ 1.0, 1.1, 0.9 }, { 3.0, 3.1, 2.9 }, true);
    CHECK(judged(stances, { carried("x", Better::lower) })[0].call == Call::better);
    CHECK(judged(stances, { carried("x", Better::higher) })[0].call == Call::worse);
    CHECK(judged(stances, { carried("x", Better::neither) }).empty());
    const auto verdict = judged(stances, { carried("x", Better::lower) })[0];
    CHECK(verdict.difference.difference == Approx(-2.0));
    CHECK(verdict.difference.points == Approx(2.0));
    CHECK(verdict.firm);
}

TEST_CASE("A reading that would be called alone is too close among many")
{
    // t = 4 with 4 degrees of freedom: p = 0.016 alone, 0.048 of three, 0.064 of four.
    const double half = 4.0 * std::sqrt(0.01 * 2.0 / 3.0);
    const auto stances = twoStances({ 0.9, 1.0, 1.1 }, { 0.9 + half, 1.0 + half, 1.1 + half }, false);
    const std::vector<Reading> three(3, carried("x", Better::lower)), four(4, carried("x", Better::lower));
    CHECK(judged(stances, three)[0].call == Call::better);
    CHECK(judged(stances, three)[0].adjustedChance == Approx(3 * 0.01613).epsilon(0.001));
    CHECK(judged(stances, four)[0].call == Call::tooClose);
}

TEST_CASE("From one set-up each a verdict is called and not firm")
{
    const auto verdict =
        judged(twoStances({ 1.0, 1.1, 0.9 }, { 3.0, 3.1, 2.9 }, false), { carried("x", Better::lower) })[0];
    CHECK(verdict.call == Call::better);
    CHECK_FALSE(verdict.firm);
}

TEST_CASE("Of one take each nothing is called")
{
    const auto verdict = judged(twoStances({ 1.0 }, { 30.0 }, false), { carried("x", Better::lower) })[0];
    CHECK(verdict.call == Call::tooClose);
    CHECK_FALSE(verdict.firm);
    CHECK(std::isnan(verdict.difference.plusMinus));
}

TEST_CASE("What is real but less than listeners notice is too close to call, unless the gate is off")
{
    auto reading = carried("x", Better::lower);
    reading.justNoticeable = { 5.0, "somebody" };
    const auto stances = twoStances({ 1.0, 1.1, 0.9 }, { 3.0, 3.1, 2.9 }, true);
    CHECK(judged(stances, { reading })[0].call == Call::tooClose);
    CHECK(judged(stances, { reading })[0].underNoticeable);
    VerdictRules open;
    open.heedNoticeable = false;
    CHECK(judged(stances, { reading }, open)[0].call == Call::better);
    reading.justNoticeable->difference = 1.9;
    CHECK(judged(stances, { reading })[0].call == Call::better);
}

TEST_CASE("A verdict that is called never has an interval that holds zero")
{
    for (int seed = 1; seed <= 300; ++seed)
    {
        Random random(static_cast<std::uint64_t>(seed));
        std::vector<double> a, b;
        for (int i = 0; i < 3; ++i)
        {
            a.push_back(1.0 + 0.2 * random.normal());
            b.push_back(1.3 + 0.2 * random.normal());
        }
        auto ratio = carried("ratio", Better::lower);
        ratio.scale = ReadingScale::ratio;
        auto folded = carried("folded", Better::lower);
        folded.scale = ReadingScale::folded;
        for (const auto& verdict :
             judged(twoStances(a, b, true), { carried("x", Better::lower), ratio, folded }))
            if (verdict.call != Call::tooClose)
                CHECK(std::abs(verdict.difference.difference) > verdict.difference.plusMinus);
    }
}

TEST_CASE("What to do next: the fewest set-ups that would settle something, or the put-back spread first")
{
    const std::vector<Reading> readings{ carried("x", Better::lower) };
    const auto next = [&](const std::vector<StanceData>& stances)
    {
        const MatchedBoard board(stances, usualMatchBand);
        const std::vector<ReadingEstimate> estimates{ ReadingEstimate(board, readings[0]) };
        const SpreadFacts facts(board.layout());
        return nextStep(verdictsOf(0, 1, readings, estimates, facts, {}), readings, facts);
    };
    // One set-up each: learn first how far a pair returns.
    const auto first = next(twoStances({ 1.0, 1.1 }, { 3.0, 3.1 }, false));
    REQUIRE(first);
    CHECK_FALSE(first->reading);
    CHECK(first->stances == std::vector<std::size_t>{ 0, 1 });
    // Two set-ups each, nearly called: one more of one of them.
    const auto close = next(twoStances({ 1.0, 1.2 }, { 1.55, 1.75 }, true));
    REQUIRE(close);
    REQUIRE(close->reading);
    CHECK(close->times == 1);
    CHECK(close->stances.size() == 1);
    // Alike: no few set-ups would tell them apart.
    CHECK_FALSE(next(twoStances({ 1.0, 1.2 }, { 1.01, 1.21 }, true)));
    // Called already: nothing is open.
    CHECK_FALSE(next(twoStances({ 1.0, 1.01, 0.99 }, { 3.0, 3.01, 2.99 }, true)));
}
