// What could pass here for the wrong reason: a filing that is right in an empty trial alone; so random
// sequences of filings, good and bad, are made, and after each every reference in the trial must lead
// somewhere. A refusal that leaves half its work behind would be seen in the trial handed over, which must
// not change.

#include "Trial/Trial.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <rapidcheck.h>
#include <set>

using namespace plumbline;

namespace
{
Trial emptyTrial()
{
    Trial trial;
    trial.id = "t-1";
    trial.name = "Spring";
    trial.room = "the Mill Lane Room";
    trial.orientations = usualOrientations();
    return trial;
}

TakeFiling filingOf(const std::string& id, const std::string& stance = "Heron 6, upright", int ordinal = 1)
{
    TakeFiling filing;
    filing.takeId = id;
    filing.stance = parseStance(stance).value();
    filing.setUpOrdinal = ordinal;
    filing.when = "2026-03-01T10:00:00Z";
    return filing;
}

Trial filed(Trial trial, const TakeFiling& filing)
{
    auto result = withTake(std::move(trial), filing);
    REQUIRE(result.ok());
    return std::move(result).value();
}

std::string codeOf(const Trial& trial, const TakeFiling& filing)
{
    const auto result = withTake(trial, filing);
    CHECK_FALSE(result.ok());
    if (result.ok())
        return "";
    CHECK_THAT(result.problem().sentence(), Catch::EndsWith("."));
    return result.problem().code;
}

template <class Items, class Key>
bool unique(const Items& items, const Key& key)
{
    std::set<decltype(key(*items.begin()))> seen;
    return std::all_of(items.begin(), items.end(),
                       [&](const auto& item) { return seen.insert(key(item)).second; });
}

template <class Items, class Predicate>
bool holds(const Items& items, const Predicate& matches)
{
    return std::any_of(items.begin(), items.end(), matches);
}

/** Every name and number in the trial leads to one thing, and to one alone. */
bool allReferencesResolve(const Trial& trial)
{
    const bool takes = std::all_of(trial.takes.begin(), trial.takes.end(),
                                   [&](const TakeEntry& take)
                                   {
                                       return trial.setUp(take.setUp) != nullptr &&
                                              holds(trial.positions, [&](const Position& p)
                                                    { return p.name == take.position; });
                                   });
    const bool setUps = std::all_of(trial.setUps.begin(), trial.setUps.end(),
                                    [&](const SetUp& s) { return trial.stance(s.stance) != nullptr; });
    const bool stances = std::all_of(
        trial.stances.begin(), trial.stances.end(),
        [&](const Stance& s)
        {
            return holds(trial.monitors, [&](const Monitor& m) { return m.name == s.monitor; }) &&
                   std::count(trial.orientations.begin(), trial.orientations.end(), s.orientation) == 1;
        });
    return takes && setUps && stances && unique(trial.takes, [](const TakeEntry& t) { return t.id; }) &&
           unique(trial.setUps, [](const SetUp& s) { return s.id; }) &&
           unique(trial.stances, [](const Stance& s) { return s.name(); }) &&
           unique(trial.monitors, [](const Monitor& m) { return m.name; }) &&
           unique(trial.positions, [](const Position& p) { return p.name; });
}
}

TEST_CASE("A stance's name is parted by its first comma, and blanks about the parts are left out")
{
    struct Case
    {
        const char *text, *monitor, *orientation;
    };

    for (const auto& [text, monitor, orientation] :
         { Case{ "Heron 6, upright", "Heron 6", "upright" },
           Case{ "Tarn 5, side, tweeters out", "Tarn 5", "side, tweeters out" },
           Case{ "  Osier 8 ,\tside, tweeters in  ", "Osier 8", "side, tweeters in" },
           Case{ "A,B", "A", "B" } })
    {
        CAPTURE(text);
        const auto stance = parseStance(text);
        REQUIRE(stance.ok());
        CHECK(stance->monitor == monitor);
        CHECK(stance->orientation == orientation);
        CHECK(parseStance(stance->name()).value() == *stance);
    }
}

TEST_CASE("A name without a comma, or with an empty part, is no stance")
{
    for (const std::string text :
         { "", "Heron 6", ",", "Heron 6,", ", upright", " , upright", "Heron 6,  \t" })
    {
        const auto refused = parseStance(text);
        CAPTURE(text);
        REQUIRE_FALSE(refused.ok());
        CHECK(refused.problem().code == "stance-name");
        CHECK_THAT(refused.problem().sentence(), Catch::Contains("\"" + text + "\""));
        CHECK_THAT(refused.problem().sentence(), Catch::Contains("comma"));
    }
}

TEST_CASE("Every trial begins with three orientations, all of which can be named in a stance")
{
    const auto usual = usualOrientations();
    CHECK(usual == std::vector<std::string>{ "upright", "side, tweeters out", "side, tweeters in" });
    for (const auto& orientation : usual)
        CHECK(parseStance("Heron 6, " + orientation)->orientation == orientation);
}

TEST_CASE("The first take makes monitor, stance, position and set-up")
{
    const auto trial = filed(emptyTrial(), filingOf("one"));
    REQUIRE(trial.monitors.size() == 1);
    CHECK(trial.monitors[0].name == "Heron 6");
    CHECK(trial.monitors[0].kind == Monitor::Kind::pair);
    CHECK_FALSE(trial.monitors[0].widthCm.has_value());
    CHECK(trial.orientations == usualOrientations());
    REQUIRE(trial.stances.size() == 1);
    CHECK(trial.stances[0].name() == "Heron 6, upright");
    REQUIRE(trial.positions.size() == 1);
    CHECK(trial.positions[0] == Position{ "seat", std::array<double, 3>{ 0.0, 0.0, 0.0 } });
    REQUIRE(trial.setUps.size() == 1);
    CHECK(trial.setUps[0] == SetUp{ 1, "Heron 6, upright", "2026-03-01T10:00:00Z" });
    REQUIRE(trial.takes.size() == 1);
    CHECK(trial.takes[0] == TakeEntry{ "one", 1, "seat", true, "" });
}

TEST_CASE("A second take of the same set-up adds the take and nothing else")
{
    const auto before = filed(emptyTrial(), filingOf("one"));
    auto filing = filingOf("two");
    filing.when = "2026-03-01T11:00:00Z";
    auto after = filed(before, filing);
    REQUIRE(after.takes.size() == 2);
    CHECK(after.takes[1] == TakeEntry{ "two", 1, "seat", true, "" });
    after.takes.pop_back();
    CHECK(after == before);
}

TEST_CASE(
    "Set-ups are numbered within a stance, in the order in which it was stood up, whatever comes between")
{
    auto trial = emptyTrial();
    trial = filed(trial, filingOf("a", "Heron 6, upright", 1));
    trial = filed(trial, filingOf("b", "Tarn 5, upright", 1));
    trial = filed(trial, filingOf("c", "Heron 6, upright", 2));
    trial = filed(trial, filingOf("d", "Tarn 5, upright", 2));
    trial = filed(trial, filingOf("e", "Heron 6, upright", 1)); // a take of the first standing, told late
    REQUIRE(trial.setUps.size() == 4);
    auto setUpOf = [&](const std::string& take)
    {
        const auto found = std::find_if(trial.takes.begin(), trial.takes.end(),
                                        [&](const TakeEntry& t) { return t.id == take; });
        return found->setUp;
    };
    CHECK(trial.setUpOf("Heron 6, upright", 1)->id == setUpOf("a"));
    CHECK(trial.setUpOf("Heron 6, upright", 2)->id == setUpOf("c"));
    CHECK(trial.setUpOf("Tarn 5, upright", 1)->id == setUpOf("b"));
    CHECK(trial.setUpOf("Tarn 5, upright", 2)->id == setUpOf("d"));
    CHECK(setUpOf("e") == setUpOf("a"));
    CHECK(trial.setUpOf("Heron 6, upright", 3) == nullptr);
    CHECK(trial.setUpOf("Heron 6, upright", 0) == nullptr);
    CHECK(trial.setUpOf("Osier 8, upright", 1) == nullptr);
}

TEST_CASE("A set-up may have any number from 1; another is refused")
{
    const auto trial = filed(emptyTrial(), filingOf("one"));
    for (const int number : { 0, -1 })
        CHECK(codeOf(trial, filingOf("two", "Heron 6, upright", number)) == "set-up-number");
    const auto later = filed(trial, filingOf("two", "Tarn 5, upright", 3));
    CHECK(later.setUpOf("Tarn 5, upright", 3) != nullptr);
    CHECK(later.setUpOf("Tarn 5, upright", 1) == nullptr);
    CHECK(withTake(trial, filingOf("two", "Heron 6, upright", 2)).ok());
}

TEST_CASE("A monitor is a pair or a single one, and stays so")
{
    auto single = filingOf("one", "Osier 8, upright");
    single.kind = Monitor::Kind::single;
    const auto trial = filed(emptyTrial(), single);
    CHECK(trial.monitors[0].kind == Monitor::Kind::single);
    CHECK(codeOf(trial, filingOf("two", "Osier 8, upright")) == "other-kind");
    CHECK_THAT(withTake(trial, filingOf("two", "Osier 8, upright")).problem().sentence(),
               Catch::Contains("single"));
    single.takeId = "two";
    single.stance.orientation = "side, tweeters in";
    CHECK(filed(trial, single).monitors.size() == 1);
    auto pairFirst = filed(emptyTrial(), filingOf("one"));
    auto asSingle = filingOf("two");
    asSingle.kind = Monitor::Kind::single;
    CHECK(codeOf(pairFirst, asSingle) == "other-kind");
}

TEST_CASE("A take id is used once")
{
    const auto trial = filed(emptyTrial(), filingOf("one"));
    CHECK(codeOf(trial, filingOf("one")) == "take-exists");
    CHECK(codeOf(trial, filingOf("one", "Tarn 5, upright")) == "take-exists");
}

TEST_CASE("A doubtful take is filed but does not count, and keeps its reason")
{
    auto filing = filingOf("one");
    filing.doubtful = true;
    filing.reason = "The microphone's channel clipped";
    const auto trial = filed(emptyTrial(), filing);
    CHECK_FALSE(trial.takes[0].keep);
    CHECK(trial.takes[0].reason == "The microphone's channel clipped");
}

TEST_CASE("A place other than the seat is made without an offset, and a known one keeps its own")
{
    auto trial = emptyTrial();
    trial.positions.push_back({ "left of the seat", std::array<double, 3>{ -20.0, 0.0, 0.0 } });
    auto filing = filingOf("one");
    filing.position = "left of the seat";
    trial = filed(trial, filing);
    REQUIRE(trial.positions.size() == 1);
    CHECK(trial.positions[0].offsetCm == std::array<double, 3>{ -20.0, 0.0, 0.0 });
    filing.takeId = "two";
    filing.position = "sofa";
    trial = filed(trial, filing);
    REQUIRE(trial.positions.size() == 2);
    CHECK(trial.positions[1] == Position{ "sofa", std::nullopt });
}

TEST_CASE("An orientation of the user's own joins the usual ones")
{
    const auto trial = filed(emptyTrial(), filingOf("one", "Heron 6, upside down"));
    REQUIRE(trial.orientations.size() == 4);
    CHECK(trial.orientations.back() == "upside down");
}

TEST_CASE("New set-ups never take the id of another, even where ids have gaps")
{
    auto trial = emptyTrial();
    trial = filed(trial, filingOf("a"));
    trial.setUps[0].id = trial.takes[0].setUp = 7;
    trial = filed(trial, filingOf("b", "Tarn 5, upright"));
    CHECK(trial.setUps[1].id == 8);
    CHECK(trial.setUp(7)->stance == "Heron 6, upright");
    CHECK(trial.setUp(1) == nullptr);
}

TEST_CASE("A trial is a value: filing into it leaves the former one as it was, refused or not")
{
    const auto before = filed(emptyTrial(), filingOf("one"));
    const auto copy = before;
    const auto after = withTake(before, filingOf("two", "Tarn 5, upright"));
    CHECK(before == copy);
    CHECK_FALSE(after.value() == before);
    CHECK_FALSE(withTake(before, filingOf("two", "Tarn 5, upright", 0)).ok());
    CHECK(before == copy);
    auto other = before;
    other.takes[0].keep = false;
    CHECK_FALSE(other == before);
}

TEST_CASE("After any sequence of filings every reference leads to one thing")
{
    CHECK(rc::check(
        "references resolve, takes come in order, nothing filed is lost",
        []
        {
            const auto steps = *rc::gen::inRange(1, 40);
            auto trial = emptyTrial();
            std::vector<std::string> accepted;
            for (int step = 0; step < steps; ++step)
            {
                TakeFiling filing;
                filing.takeId = "take " + std::to_string(*rc::gen::inRange(0, 60));
                filing.stance.monitor = *rc::gen::element<std::string>("Heron 6", "Tarn 5", "Osier 8");
                filing.stance.orientation =
                    *rc::gen::element<std::string>("upright", "side, tweeters out", "askew");
                filing.kind =
                    *rc::gen::element(Monitor::Kind::pair, Monitor::Kind::pair, Monitor::Kind::single);
                filing.setUpOrdinal = *rc::gen::inRange(0, 4);
                filing.position = *rc::gen::element<std::string>("seat", "sofa");
                filing.doubtful = *rc::gen::arbitrary<bool>();
                const auto before = trial;
                if (auto result = withTake(trial, filing))
                {
                    trial = std::move(result).value();
                    accepted.push_back(filing.takeId);
                    // It went where it was sent.
                    RC_ASSERT(trial.takes.back().setUp ==
                              trial.setUpOf(filing.stance.name(), filing.setUpOrdinal)->id);
                    RC_ASSERT(trial.takes.back().position == filing.position);
                    RC_ASSERT(trial.takes.back().keep == !filing.doubtful);
                }
                RC_ASSERT(allReferencesResolve(trial));
                // What stood there stands there still, in the same order.
                RC_ASSERT(std::equal(before.setUps.begin(), before.setUps.end(), trial.setUps.begin()));
                RC_ASSERT(std::equal(before.takes.begin(), before.takes.end(), trial.takes.begin()));
            }
            RC_ASSERT(trial.takes.size() == accepted.size());
            for (std::size_t i = 0; i < accepted.size(); ++i)
                RC_ASSERT(trial.takes[i].id == accepted[i]);
            RC_TAG(accepted.empty() ? "nothing filed" : "something filed");
        }));
}

TEST_CASE("The check of references sees a broken one")
{
    // Control for the case above.
    const auto sound = filed(emptyTrial(), filingOf("one"));
    REQUIRE(allReferencesResolve(sound));
    auto broken = sound;
    broken.takes[0].setUp = 99;
    CHECK_FALSE(allReferencesResolve(broken));
    broken = sound;
    broken.stances.clear();
    CHECK_FALSE(allReferencesResolve(broken));
    broken = sound;
    broken.positions.clear();
    CHECK_FALSE(allReferencesResolve(broken));
    broken = sound;
    broken.setUps.push_back(broken.setUps[0]);
    CHECK_FALSE(allReferencesResolve(broken));
}
