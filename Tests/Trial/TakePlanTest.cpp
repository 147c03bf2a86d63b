// What could pass here for the wrong reason: an order that is right for one pair alone, or from an empty
// trial alone. So three pairs are planned, from the start and from the middle, and stand-ups and turns are
// counted.

#include "Trial/TakePlan.h"

#include <catch2/catch.hpp>
#include <map>
#include <set>

using namespace plumbline;

namespace
{
StanceProgress of(const std::string& name, std::vector<int> takes = {})
{
    return { parseStance(name).value(), std::move(takes) };
}

std::vector<std::string> namesOf(const std::vector<PlanStep>& steps)
{
    std::vector<std::string> names;
    for (const auto& step : steps)
        names.push_back(step.stance.name());
    return names;
}
}

TEST_CASE("Three stances are done A B C C B A, the turning point lifted and put back")
{
    const auto steps = planOf(
        { of("Heron 6, upright"), of("Heron 6, side, tweeters out"), of("Heron 6, side, tweeters in") }, {},
        std::nullopt);
    CHECK(namesOf(steps) == std::vector<std::string>{ "Heron 6, upright", "Heron 6, side, tweeters out",
                                                      "Heron 6, side, tweeters in",
                                                      "Heron 6, side, tweeters in",
                                                      "Heron 6, side, tweeters out", "Heron 6, upright" });
    CHECK(steps[2].act == PlanStep::Act::stand);
    CHECK(steps[3].act == PlanStep::Act::restand);
    CHECK_THAT(steps[3].words, Catch::StartsWith("Lift Heron 6"));
    CHECK(steps[3].setUp == 2);
    CHECK(steps[4].act == PlanStep::Act::stand);
    CHECK(secondsLeft(steps) == Approx(6 * (2 * 15.0 + 180.0)));
}

TEST_CASE("Nine stances are each stood up once, and three or all of them twice; pairs stay together")
{
    std::vector<StanceProgress> board;
    for (const char* orientation :
         { "upright", "side, tweeters out", "side, tweeters in" }) // column by column
        for (const char* pair : { "Heron 6", "Tarn 5", "Osier 8" })
            board.push_back(of(std::string(pair) + ", " + orientation));
    PlanWish wish;
    CHECK(planOf(board, wish, std::nullopt).size() == 12);
    wish.allTwice = true;
    const auto steps = planOf(board, wish, std::nullopt);
    REQUIRE(steps.size() == 18);
    int changes = 0;
    for (std::size_t i = 1; i < steps.size(); ++i)
        changes += steps[i].stance.monitor != steps[i - 1].stance.monitor ? 1 : 0;
    CHECK(changes == 4); // there and back between three pairs: the fewest
    for (std::size_t i = 0; i < 9; ++i)
        CHECK(steps[i].stance == steps[17 - i].stance);
}

TEST_CASE("From the middle: what stands is finished first, what was done is not done again")
{
    const std::vector<StanceProgress> board{ of("Heron 6, upright", { 2, 2 }), of("Tarn 5, upright", { 1 }),
                                             of("Osier 8, upright") };
    const auto steps = planOf(board, {}, "Tarn 5, upright");
    CHECK(namesOf(steps) == std::vector<std::string>{ "Tarn 5, upright", "Osier 8, upright",
                                                      "Osier 8, upright", "Tarn 5, upright" });
    CHECK(steps[0].act == PlanStep::Act::goOn);
    CHECK(steps[0].takes == 1);
    CHECK(steps[0].seconds == Approx(15.0));
    CHECK(steps[3].setUp == 2);
    CHECK(planOf({ of("Heron 6, upright", { 2, 2 }), of("Tarn 5, upright", { 2, 2 }),
                   of("Osier 8, upright", { 2, 2 }) },
                 {}, std::nullopt)
              .empty());
}

TEST_CASE("What a trial holds is counted by set-ups, at the seat, without discarded takes")
{
    Trial trial;
    int take = 0;
    const auto file = [&](const char* stance, int setUp, const char* position, bool doubtful)
    {
        TakeFiling filing;
        filing.takeId = std::to_string(++take);
        filing.stance = parseStance(stance).value();
        filing.setUpOrdinal = setUp;
        filing.position = position;
        filing.doubtful = doubtful;
        trial = withTake(trial, filing).value();
    };
    file("Heron 6, upright", 2, "seat", false);
    file("Heron 6, upright", 1, "seat", false);
    file("Heron 6, upright", 1, "seat", false);
    file("Heron 6, upright", 1, "seat", true);
    file("Heron 6, upright", 1, "left", false);
    const auto progress = progressOf(trial);
    REQUIRE(progress.size() == 1);
    CHECK(progress[0].takes == std::vector<int>{ 2, 1 });
}
