// What could pass here for the wrong reason: a scenario refused for another fault than the one put in. Each
// case starts from a scenario without fault and looks at what the sentence names.

#include "Rooms.h"

#include <catch2/catch.hpp>
#include <functional>
#include <limits>

using namespace plumbline;
using namespace plumbline::test;

TEST_CASE("The scenarios of these tests have no fault")
{
    CHECK_FALSE(fault(pointInTheOpen()));
    CHECK_FALSE(fault(furnishedRoom()));
}

TEST_CASE("Each fault of a scenario is told by the part and in a sentence")
{
    struct Row
    {
        const char* where;
        const char* what;
        std::function<void(Scenario&)> spoil;
    };

    const double notANumber = std::numeric_limits<double>::quiet_NaN();
    const Row rows[] = {
        { "monitors", "no monitor", [](Scenario& s) { s.monitors.clear(); } },
        { "stances", "no stance", [](Scenario& s) { s.stances.clear(); } },
        { "stances", "\"Lark\" is none of the monitors", [](Scenario& s) { s.stances[1].monitor = "Lark"; } },
        { "stances", "twice", [](Scenario& s) { s.stances[1] = s.stances[0]; } },
        { "monitors", "twice", [](Scenario& s) { s.monitors.push_back(s.monitors[0]); } },
        { "comma", "comma", [](Scenario& s) { s.monitors[0].name = "Heron, 6"; } },
        { "studio", "one of the two", [](Scenario& s) { s.studio.t60Seconds = everywhere(0.3); } },
        { "studio", "one of the two", [](Scenario& s) { s.studio.absorption.reset(); } },
        { "studio.absorption", "1.1", [](Scenario& s) { s.studio.absorption->floor[3] = 1.1; } },
        { "studio.size.heightM", "not between", [=](Scenario& s) { s.studio.size.heightM = notANumber; } },
        { "studio.desk", "ends before it begins", [](Scenario& s) { s.studio.desk->toXM = 1.0; } },
        { "crossoverHz", "50 Hz", [](Scenario& s) { s.monitors[0].crossoverHz = 50.0; } },
        { "bumps.q", "0", [](Scenario& s) { s.monitors[0].bumps[0].q = 0.0; } },
        { "microphone.response", "rise",
          [](Scenario& s) {
              s.microphone.response = { { 100, 0 }, { 50, 1 } };
          } },
        { "microphone.positions", "\"seat\"", [](Scenario& s) { s.microphone.positions[0].name = "seat"; } },
        { "microphone", "outside the room", [](Scenario& s) { s.microphone.positions[0].xCm = 300.0; } },
        { "placement", "outside the room", [](Scenario& s) { s.placement.apartM = 4.05; } },
        { "placement", "25 cm",
          [](Scenario& s) {
              s.microphone.seatM = { 1.2, 1.3, 1.2 };
          } },
        { "converter.latencySamples", "3 samples", [](Scenario& s) { s.converter.latencySamples = 3; } },
        { "plan.levelDbfs", "0 dBFS", [](Scenario& s) { s.plan.levelDbfs = 0.0; } },
        { "sampleRateHz", "100 Hz", [](Scenario& s) { s.sampleRateHz = 100.0; } },
    };
    for (const Row& row : rows)
    {
        Scenario scenario = furnishedRoom();
        row.spoil(scenario);
        const std::optional<Problem> problem = fault(scenario);
        INFO(row.where << ": " << row.what);
        REQUIRE(problem);
        INFO(problem->sentence());
        CHECK(problem->code == "scenario-not-possible");
        CHECK(problem->sentence().find(row.where) != std::string::npos);
        CHECK(problem->what.find(row.what) != std::string::npos);
    }
}

TEST_CASE("Orientations and stances have their names, and names lead back")
{
    CHECK(orientationName(CabinetOrientation::upright) == "upright");
    CHECK(orientationName(CabinetOrientation::sideTweetersOut) == "side, tweeters out");
    CHECK(orientationName(CabinetOrientation::sideTweetersIn) == "side, tweeters in");
    for (CabinetOrientation orientation : cabinetOrientations)
        CHECK(orientationNamed(orientationName(orientation)) == orientation);
    CHECK_FALSE(orientationNamed("Upright"));
    CHECK(stanceName({ "Heron 6", CabinetOrientation::sideTweetersIn }) == "Heron 6, side, tweeters in");
}
