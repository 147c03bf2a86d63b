// What could pass here for the wrong reason: a check that refuses every trial, or for another fault. A sound
// one is taken, and each spoilt one differs from it in one thing, whose code must be told.

#include "Trial/TrialCheck.h"

#include <catch2/catch.hpp>
#include <functional>
#include <limits>

using namespace plumbline;

namespace
{
constexpr double noFigure = std::numeric_limits<double>::quiet_NaN();

Trial soundTrial()
{
    Trial trial;
    trial.id = "t";
    trial.orientations = usualOrientations();
    for (const char* id : { "a", "b", "c" })
    {
        TakeFiling filing;
        filing.takeId = id;
        filing.stance = { "Heron 6", "upright" };
        trial = withTake(std::move(trial), filing).value();
    }
    trial.discarded.push_back({ trial.takes.back(), "A door." });
    trial.takes.pop_back();
    trial.temperatureC = 21.5;
    trial.placement = StancePlacement{ 180.0, 200.0, 120.0, 30.0 };
    trial.placements["Heron 6, upright"] = StancePlacement{ 170.0, {}, {}, -5.0 };
    trial.weights = { { "evenness", 2.0 } };
    trial.choice = Choice{ "Heron 6, upright", "2026-05-01", "Even bass.", "a", -1.5 };
    return trial;
}

std::string codeAfter(const std::function<void(Trial&)>& spoil)
{
    auto trial = soundTrial();
    spoil(trial);
    const auto fault = faultOf(trial);
    return fault ? fault->code : "";
}
}

TEST_CASE("A sound trial has no fault, and each way in which one can be unsound is named by its code")
{
    CHECK(codeAfter([](Trial&) {}) == "");
    const std::pair<const char*, std::function<void(Trial&)>> rows[] = {
        { "two-of-a-name", [](Trial& t) { t.monitors.push_back(t.monitors[0]); } },
        { "two-of-a-name", [](Trial& t) { t.orientations.push_back("upright"); } },
        { "two-of-a-name",
          [](Trial& t) {
              t.discarded.push_back({ t.takes[0], "" });
          } },
        { "two-of-a-name",
          [](Trial& t) {
              t.setUps.push_back({ 9, t.setUps[0].stance, "", 1 });
          } },
        { "not-listed", [](Trial& t) { t.monitors.clear(); } },
        { "not-listed", [](Trial& t) { t.orientations.erase(t.orientations.begin()); } },
        { "not-listed", [](Trial& t) { t.takes[0].setUp = 7; } },
        { "not-listed", [](Trial& t) { t.discarded[0].entry.setUp = 7; } },
        { "not-listed", [](Trial& t) { t.discarded[0].entry.position = "sofa"; } },
        { "not-listed", [](Trial& t) { t.placements["Tarn 5, upright"] = {}; } },
        { "take-id", [](Trial& t) { t.takes[1].id = "../../mix"; } },
        { "take-id", [](Trial& t) { t.takes[1].id = ".."; } },
        { "take-id", [](Trial& t) { t.takes[1].id = ""; } },
        { "take-id", [](Trial& t) { t.takes[1].id = std::string("a\0b", 3); } },
        { "figure", [](Trial& t) { t.temperatureC = noFigure; } },
        { "placement", [](Trial& t) { t.placement->heightCm = noFigure; } },
        { "placement", [](Trial& t) { t.placements["Heron 6, upright"].apartCm = -1.0; } },
        { "weight", [](Trial& t) { t.weights["reach"] = noFigure; } },
        { "not-listed", [](Trial& t) { t.choice->stance = "Tarn 5, upright"; } },
        { "not-listed", [](Trial& t) { t.choice->referenceTake = "c"; } }, // discarded
        { "choice", [](Trial& t) { t.choice->date = ""; } },
        { "choice", [](Trial& t) { t.choice->trimDb = noFigure; } },
    };
    for (const auto& [code, spoil] : rows)
    {
        CAPTURE(code);
        CHECK(codeAfter(spoil) == code);
    }
}
