// What could pass here for the wrong reason: a key that is not read at all keeps its default, and a default
// can be what a test expects. So every key is given a value that is no default and looked for in the
// scenario; and every key is spoilt once, which an unread key would not notice.

#include "Files/ScenarioFile.h"

#include "Files/AnalysisFile.h"
#include "Files/Json.h"
#include "Support/Damage.h"
#include "Support/TemporaryFolder.h"

#include <catch2/catch.hpp>

using namespace plumbline;
using namespace plumbline::test;
using Catch::Matchers::Contains;

namespace
{

const std::filesystem::path presets = std::filesystem::path(PLUMBLINE_PRESETS) / "practice";

/** The least that can be simulated. */
Json leastJson()
{
    return { { "schema", "plumbline/scenario/1" },
             { "studio", { { "t60Seconds", { 0.3, 0.3, 0.3, 0.3, 0.3, 0.3, 0.3, 0.3, 0.3, 0.3 } } } },
             { "monitors", Json::array({ { { "name", "Heron 6" } } }) },
             { "stances", Json::array({ { { "monitor", "Heron 6" }, { "orientation", "upright" } } }) } };
}

/** Every key there is, none with its default. */
Json fullJson()
{
    auto json = Json::parse(R"({
  "schema": "plumbline/scenario/1", "name": "Full", "about": "All keys.", "sampleRateHz": 96000,
  "studio": { "name": "the Loft", "size": { "depthM": 6.1, "widthM": 4.3, "heightM": 2.9 },
    "absorption": { "walls": [0.11,0.12,0.13,0.14,0.15,0.16,0.17,0.18,0.19,0.2],
                    "floor": [0.21,0.22,0.23,0.24,0.25,0.26,0.27,0.28,0.29,0.3],
                    "ceiling": [0.31,0.32,0.33,0.34,0.35,0.36,0.37,0.38,0.39,0.4] },
    "desk": { "topHeightM": 0.7, "fromXM": 1.5, "toXM": 2.1, "fromYM": 1.4, "toYM": 2.8, "strength": 0.4 },
    "temperatureC": 23.5 },
  "placement": { "frontM": 1.2, "apartM": 1.6, "toeInDegrees": 20, "heightM": 1.25, "axisM": 2.1 },
  "errors": { "microphoneM": 0.002, "cabinetM": 0.003, "cabinetTurnDegrees": 0.5 },
  "monitors": [ { "name": "Tarn 5", "kind": "single", "cabinetWidthCm": 18, "cabinetHeightCm": 27,
    "cabinetDepthCm": 22, "driverSpacingM": 0.142, "wooferRadiusM": 0.052, "tweeterRadiusM": 0.013,
    "crossoverHz": 2700, "lowCornerHz": 62, "lowOrder": 3, "highCornerHz": 22000, "highOrder": 1,
    "trimDb": 1.8, "bumps": [ { "frequencyHz": 1250, "levelDb": 1.6, "q": 3 } ],
    "rightLessLeft": [ { "frequencyHz": 2400, "levelDb": 0.5, "q": 1.4 } ] } ],
  "microphone": { "seatM": { "x": 2.6, "y": 2.1, "z": 1.3 }, "gainDb": -3, "noiseDbfs": -80,
    "noiseColour": "white", "positions": [ { "name": "ahead", "xCm": -20, "yCm": 5, "zCm": 6 } ],
    "response": [ { "frequencyHz": 100, "levelDb": 0.1 }, { "frequencyHz": 9000, "levelDb": 1.1 } ] },
  "converter": { "latencySamples": 700, "highPassHz": 5, "tiltDb": -0.1, "loopback": false },
  "plan": { "setUps": 2, "takes": 3, "sweepSeconds": 4, "levelDbfs": -30, "leadInSeconds": 0.5,
    "silenceSeconds": 1.5 },
  "stances": [ { "monitor": "Tarn 5", "orientation": "side, tweeters in" } ]
})");
    return json;
}

Result<Scenario> readText(const std::string& text)
{
    static const TemporaryFolder folder;
    writeBytes(folder / "room.json", text);
    return readScenario(folder / "room.json");
}

/** Sentence of the refusal; empty if the scenario was taken. */
std::string refusal(const Json& json)
{
    const auto scenario = readText(toText(json));
    return scenario ? std::string() : scenario.problem().sentence();
}

/** Calls `act` for every value inside, with the name of its key (for items of a list, the list's). */
void forEachValue(Json& value, const std::string& key,
                  const std::function<void(Json&, const std::string&)>& act)
{
    act(value, key);
    if (value.is_object())
        for (auto& [name, inner] : value.items())
            forEachValue(inner, name, act);
    else if (value.is_array())
        for (auto& inner : value)
            forEachValue(inner, key, act);
}

}

TEST_CASE("All shipped scenarios load without fault")
{
    std::set<std::string> files;
    for (const auto& entry : std::filesystem::directory_iterator(presets))
    {
        INFO(entry.path().string());
        const auto scenario = readScenario(entry.path());
        if (!scenario)
            FAIL(scenario.problem().sentence());
        CHECK_FALSE(scenario->name.empty());
        CHECK_FALSE(scenario->about.empty());
        files.insert(entry.path().filename().string());
    }
    CHECK(files ==
          std::set<std::string>{ "clean-wire.json", "dead-room.json", "live-room.json", "three-pairs.json" });
}

TEST_CASE("The scenario of three pairs holds three pairs in three orientations each")
{
    const auto scenario = readScenario(presets / "three-pairs.json");
    REQUIRE(scenario);
    REQUIRE(scenario->monitors.size() == 3);
    for (const auto& monitor : scenario->monitors)
    {
        CHECK(monitor.kind == MonitorModel::Kind::pair);
        for (const auto orientation : cabinetOrientations)
            CHECK(std::count(scenario->stances.begin(), scenario->stances.end(),
                             ScenarioStance{ monitor.name, orientation }) == 1);
    }
    CHECK(scenario->stances.size() == 9);
}

TEST_CASE("What is left out keeps its default")
{
    const auto scenario = readText(toText(leastJson()));
    REQUIRE(scenario);
    Scenario wanted;
    wanted.studio.t60Seconds.emplace().fill(0.3);
    wanted.monitors.emplace_back().name = "Heron 6";
    wanted.stances.push_back({ "Heron 6", CabinetOrientation::upright });
    CHECK(*scenario == wanted);
}

TEST_CASE("Every key reaches its place in the scenario")
{
    const auto read = readText(toText(fullJson()));
    if (!read)
        FAIL(read.problem().sentence());
    Scenario wanted;
    wanted.name = "Full";
    wanted.about = "All keys.";
    wanted.sampleRateHz = 96000.0;
    wanted.studio.name = "the Loft";
    wanted.studio.size = { 6.1, 4.3, 2.9 };
    wanted.studio.absorption =
        SurfaceAbsorption{ { 0.11, 0.12, 0.13, 0.14, 0.15, 0.16, 0.17, 0.18, 0.19, 0.2 },
                           { 0.21, 0.22, 0.23, 0.24, 0.25, 0.26, 0.27, 0.28, 0.29, 0.3 },
                           { 0.31, 0.32, 0.33, 0.34, 0.35, 0.36, 0.37, 0.38, 0.39, 0.4 } };
    wanted.studio.desk = DeskModel{ 0.7, 1.5, 2.1, 1.4, 2.8, 0.4 };
    wanted.studio.temperatureC = 23.5;
    wanted.placement = { 1.2, 1.6, 20.0, 1.25, 2.1 };
    wanted.errors = { 0.002, 0.003, 0.5 };
    MonitorModel monitor;
    monitor.name = "Tarn 5";
    monitor.kind = MonitorModel::Kind::single;
    monitor.cabinetWidthCm = 18.0;
    monitor.cabinetHeightCm = 27.0;
    monitor.cabinetDepthCm = 22.0;
    monitor.driverSpacingM = 0.142;
    monitor.wooferRadiusM = 0.052;
    monitor.tweeterRadiusM = 0.013;
    monitor.crossoverHz = 2700.0;
    monitor.lowCornerHz = 62.0;
    monitor.lowOrder = 3;
    monitor.highCornerHz = 22000.0;
    monitor.highOrder = 1;
    monitor.bumps = { { 1250.0, 1.6, 3.0 } };
    monitor.rightLessLeft = { { 2400.0, 0.5, 1.4 } };
    monitor.trimDb = 1.8;
    wanted.monitors = { monitor };
    wanted.microphone.seatM = { 2.6, 2.1, 1.3 };
    wanted.microphone.positions = { { "ahead", -20.0, 5.0, 6.0 } };
    wanted.microphone.gainDb = -3.0;
    wanted.microphone.noiseDbfs = -80.0;
    wanted.microphone.noiseColour = MicrophoneModel::NoiseColour::white;
    wanted.microphone.response = { { 100.0, 0.1 }, { 9000.0, 1.1 } };
    wanted.converter = { 700, 5.0, -0.1, false };
    wanted.plan = { 2, 3, 4.0, -30.0, 0.5, 1.5 };
    wanted.stances = { { "Tarn 5", CabinetOrientation::sideTweetersIn } };
    CHECK(*read == wanted);
}

TEST_CASE("A key that is not known is refused by name, wherever it stands")
{
    const auto good = fullJson();
    std::size_t objects = 0;
    auto walked = good;
    forEachValue(walked, "", [&](Json& value, const std::string&) { objects += value.is_object() ? 1 : 0; });
    REQUIRE(objects > 15);
    for (std::size_t n = 0; n < objects; ++n)
    {
        auto json = good;
        std::size_t seen = 0;
        std::string where;
        forEachValue(json, "the top",
                     [&](Json& value, const std::string& key)
                     {
                         if (value.is_object() && seen++ == n)
                         {
                             value["trimdB"] = 1.0;
                             where = key;
                         }
                     });
        INFO("in " << where);
        CHECK_THAT(refusal(json), Contains("\"trimdB\"") && Contains("room.json"));
        if (where != "the top")
            CHECK_THAT(refusal(json), Contains(where));
    }
}

TEST_CASE("Every value of another type is refused by its key")
{
    const auto good = fullJson();
    std::size_t values = 0;
    auto walked = good;
    forEachValue(walked, "", [&](Json&, const std::string&) { ++values; });
    REQUIRE(values > 120);
    for (std::size_t n = 1; n < values; ++n) // 0 is the whole
        for (const Json& other :
             { Json(5), Json("x"), Json(false), Json::array({ Json::object() }), Json{ { "x", 5 } } })
        {
            auto json = good;
            std::size_t seen = 0;
            std::string where;
            bool changed = false;
            forEachValue(json, "",
                         [&](Json& value, const std::string& key)
                         {
                             const bool alike =
                                 value.type() == other.type() || (value.is_number() && other.is_number());
                             if (seen++ == n && !alike &&
                                 key != "schema") // a schema has words of its own: below
                             {
                                 where = key;
                                 changed = true;
                                 value = other;
                             }
                         });
            if (!changed)
                continue;
            INFO(where << " = " << other.dump());
            CHECK_THAT(refusal(json), Contains(where) && Contains("room.json"));
        }
}

TEST_CASE("Words that stand for a choice are refused if they are none of it")
{
    const auto refusalOf = [](const std::function<void(Json&)>& spoil)
    {
        auto json = fullJson();
        spoil(json);
        return refusal(json);
    };
    CHECK(refusalOf([](Json&) {}) == "");
    CHECK_THAT(refusalOf([](Json& j) { j["monitors"][0]["kind"] = "trio"; }), Contains("\"kind\""));
    CHECK_THAT(refusalOf([](Json& j) { j["microphone"]["noiseColour"] = "brown"; }),
               Contains("\"noiseColour\""));
    CHECK_THAT(refusalOf([](Json& j) { j["stances"][0]["orientation"] = "upside down"; }),
               Contains("\"orientation\""));
    CHECK_THAT(refusalOf([](Json& j) { j["stances"][0].erase("orientation"); }), Contains("\"orientation\""));
    CHECK_THAT(refusalOf([](Json& j) { j["plan"]["takes"] = 1.5; }),
               Contains("\"takes\"") && Contains("whole"));
    CHECK_THAT(refusalOf([](Json& j) { j["studio"]["absorption"]["walls"].erase(3); }),
               Contains("\"walls\"") && Contains("ten numbers"));
    CHECK_THAT(refusalOf([](Json& j) { j["studio"]["absorption"].erase("floor"); }), Contains("\"floor\""));
}

TEST_CASE("A room that cannot be simulated is refused with the file and the part")
{
    auto json = fullJson();
    json["plan"]["levelDbfs"] = 0.0;
    CHECK_THAT(refusal(json), Contains("room.json") && Contains("plan.levelDbfs"));
    json = fullJson();
    json["stances"][0]["monitor"] = "Osier 8";
    CHECK_THAT(refusal(json), Contains("room.json") && Contains("Osier 8"));
}

TEST_CASE("A scenario of a newer schema, another file, a folder and a missing one are refused")
{
    auto json = leastJson();
    json["schema"] = "plumbline/scenario/2";
    CHECK(readText(toText(json)).problem().code == "future-schema");
    json["schema"] = "plumbline/trial/1";
    CHECK(readText(toText(json)).problem().code == "other-schema");
    json["schema"] = 1;
    CHECK(readText(toText(json)).problem().code == "no-schema");
    CHECK(readText("{}").problem().code == "no-schema");
    CHECK(readText("[1,").problem().code == "not-json");
    const TemporaryFolder folder;
    CHECK_THAT(readScenario(folder.path()).problem().sentence(), Contains("folder"));
    CHECK_THAT(readScenario(folder / "none.json").problem().sentence(), Contains("none.json"));
}

namespace
{
DamageReport damageScenarios(std::size_t count)
{
    const TemporaryFolder folder;
    return takeDamagedCopies(toText(fullJson()), count,
                             [&](const std::string& text)
                             {
                                 writeBytes(folder / "room.json", text);
                                 const auto scenario = readScenario(folder / "room.json");
                                 if (scenario && fault(*scenario))
                                     throw std::runtime_error("taken, but not possible");
                                 return scenario.ok();
                             });
}
}

TEST_CASE("Two thousand damaged scenarios are taken or refused, and no more")
{
    const auto report = damageScenarios(2000);
    CHECK(report.failure == "");
    CHECK(report.taken > 20);
    CHECK(report.refused > 100);
}

TEST_CASE("Fifty thousand damaged scenarios are taken or refused", "[.long]")
{
    CHECK(damageScenarios(50000).failure == "");
}
