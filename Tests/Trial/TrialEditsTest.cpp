// What could pass here for the wrong reason: a refusal of everything. Beside each refused edit stands one
// that differs in that alone and is made.

#include "Trial/TrialEdits.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <limits>

using namespace plumbline;

namespace
{
constexpr auto heron = "Heron 6, upright";
constexpr auto laid = "Heron 6, side, tweeters out";

Monitor named(const std::string& name, Monitor::Kind kind = Monitor::Kind::pair)
{
    Monitor monitor;
    monitor.name = name;
    monitor.kind = kind;
    return monitor;
}

Trial withTakes(const std::vector<std::pair<std::string, int>>& takes)
{
    Trial trial;
    trial.orientations = usualOrientations();
    trial.monitors = { named("Heron 6"), named("Tarn 5") };
    int id = 0;
    for (const auto& [stance, setUp] : takes)
    {
        TakeFiling filing;
        filing.takeId = "take " + std::to_string(++id);
        filing.stance = parseStance(stance).value();
        filing.setUpOrdinal = setUp;
        trial = withTake(std::move(trial), filing).value();
    }
    return trial;
}

std::string codeOf(const Trial& trial, const std::string& former, const Monitor& monitor)
{
    const auto changed = withMonitor(trial, former, monitor);
    if (changed)
        return "";
    CHECK_THAT(changed.problem().sentence(), Catch::EndsWith("."));
    return changed.problem().code;
}
}

TEST_CASE("A monitor is added at the end, or changed in its place")
{
    const auto trial = withTakes({ { heron, 1 } });
    auto added = withMonitor(trial, "", named("Osier 8"));
    REQUIRE(added);
    REQUIRE(added->monitors.size() == 3);
    CHECK(added->monitors[2] == named("Osier 8"));
    auto wide = named("Heron 6");
    wide.widthCm = 21.0;
    wide.crossoverHz = 2200.0;
    const auto changed = withMonitor(trial, "Heron 6", wide);
    REQUIRE(changed);
    REQUIRE(changed->monitors.size() == 2);
    CHECK(changed->monitors[0] == wide);
    CHECK(changed->takes == trial.takes);
    CHECK(changed->setUps == trial.setUps);
    CHECK(changed->stances == trial.stances);
}

TEST_CASE("A name is wanted, without a comma, that no other has")
{
    const auto trial = withTakes({ { heron, 1 } });
    CHECK(codeOf(trial, "", named("")) == "no-name");
    CHECK(codeOf(trial, "", named(" \t")) == "no-name");
    CHECK(codeOf(trial, "", named("Osier, 8")) == "comma-in-name");
    CHECK(codeOf(trial, "", named("Tarn 5")) == "name-taken");
    CHECK(codeOf(trial, "Heron 6", named("Tarn 5")) == "name-taken");
    CHECK(codeOf(trial, "Heron 6", named("Heron 6")) == "");
    CHECK(codeOf(trial, "Heron 6", named("Heron 7")) == "");
    CHECK(codeOf(trial, "", named("Osier 8")) == "");
}

TEST_CASE("A name that differs from another's in blanks around it alone is the same name")
{
    // A stance's name is read without the blanks around its parts.
    const auto trial = withTakes({ { heron, 1 } });
    CHECK(codeOf(trial, "", named(" Heron 6 ")) == "name-taken");
    const auto renamed = withMonitor(trial, "Heron 6", named(" Osier 8 "));
    REQUIRE(renamed);
    const auto& setUp = renamed->setUps.at(0);
    CHECK(parseStance(setUp.stance)->monitor == renamed->monitors.at(0).name);
    CHECK(renamed->stance(setUp.stance) != nullptr);
}

TEST_CASE("A size is a number above 0, or not told")
{
    const auto trial = withTakes({});
    using Member = std::optional<double> Monitor::*;
    const std::pair<Member, const char*> sizes[] = {
        { &Monitor::widthCm, "width" },         { &Monitor::heightCm, "height" },
        { &Monitor::depthCm, "depth" },         { &Monitor::driverSpacingCm, "driver spacing" },
        { &Monitor::crossoverHz, "crossover" }, { &Monitor::wooferCm, "woofer" },
    };
    for (const auto& [member, name] : sizes)
        for (const double value : { 0.0, -1.0, std::nan(""), std::numeric_limits<double>::infinity() })
        {
            INFO(name << " " << value);
            auto monitor = named("Osier 8");
            monitor.*member = value;
            CHECK(codeOf(trial, "", monitor) == "size");
            CHECK_THAT(withMonitor(trial, "", monitor).problem().what, Catch::Contains(name));
            monitor.*member = 0.1;
            CHECK(codeOf(trial, "", monitor) == "");
        }
}

TEST_CASE("A monitor with takes stays a pair, or a single one; one without takes can change")
{
    const auto trial = withTakes({ { heron, 1 } });
    CHECK(codeOf(trial, "Heron 6", named("Heron 6", Monitor::Kind::single)) == "other-kind");
    CHECK(codeOf(trial, "Heron 6", named("Osier 8", Monitor::Kind::single)) == "other-kind");
    CHECK(codeOf(trial, "Tarn 5", named("Tarn 5", Monitor::Kind::single)) == "");
}

TEST_CASE("A new name is carried into stances and set-ups, and no other monitor's are touched")
{
    const auto trial =
        withTakes({ { heron, 1 }, { laid, 1 }, { heron, 2 }, { "Tarn 5, upright", 1 }, { heron, 2 } });
    const auto changed = withMonitor(trial, "Heron 6", named("Osier 8"));
    REQUIRE(changed);
    CHECK(changed->monitors[0].name == "Osier 8");
    CHECK(changed->takes == trial.takes);
    REQUIRE(changed->setUps.size() == trial.setUps.size());
    for (std::size_t i = 0; i < trial.setUps.size(); ++i)
    {
        const auto before = parseStance(trial.setUps[i].stance).value();
        const auto after = parseStance(changed->setUps[i].stance).value();
        CHECK(after.orientation == before.orientation);
        CHECK(after.monitor == (before.monitor == "Heron 6" ? "Osier 8" : "Tarn 5"));
        CHECK(changed->setUps[i].number == trial.setUps[i].number);
        CHECK(changed->stance(changed->setUps[i].stance) != nullptr);
    }
    for (const auto& stance : changed->stances)
        CHECK(stance.monitor != "Heron 6");
    // And back again it is what it was.
    CHECK(withMonitor(*changed, "Osier 8", named("Heron 6")).value() == trial);
}

TEST_CASE("The standing set-up is that of the newest take if it was of this stance, else the next one")
{
    CHECK(standingSetUp(withTakes({}), heron) == 1);
    CHECK(standingSetUp(withTakes({ { heron, 1 } }), heron) == 1);
    CHECK(standingSetUp(withTakes({ { heron, 1 }, { heron, 2 } }), heron) == 2);
    CHECK(standingSetUp(withTakes({ { heron, 1 }, { laid, 1 } }), heron) == 2);
    CHECK(standingSetUp(withTakes({ { heron, 1 }, { laid, 1 } }), laid) == 1);
    CHECK(standingSetUp(withTakes({ { heron, 1 }, { laid, 1 }, { heron, 2 } }), heron) == 2);
    CHECK(standingSetUp(withTakes({ { heron, 5 }, { laid, 1 } }), heron) == 6); // gaps are allowed
    CHECK(nextSetUp(withTakes({ { heron, 5 }, { heron, 2 } }), heron) == 6);
    CHECK(nextSetUp(withTakes({ { heron, 5 } }), laid) == 1);
}
