// What could pass here for the wrong reason: a damaged trial.json refused for another damage. Each differs in
// one thing from a good one, which is taken; the sentence must name that thing, or the entry it belongs to.
// A trial that is refused as JSON, but not from its folder: what is damaged is written to a file and opened
// there.

#include "Files/TrialFolder.h"

#include "Support/Damage.h"
#include "Support/TemporaryFolder.h"
#include "Support/TrialFolders.h"

#include <array>
#include <catch2/catch.hpp>
#include <functional>
#include <set>

using namespace plumbline;
using namespace plumbline::test;
using Catch::Matchers::Contains;
namespace fs = std::filesystem;

namespace
{

/** A trial of two stances, three set-ups and four takes, as JSON. */
Json goodJson()
{
    return Json::parse(R"({
  "schema": "plumbline/trial/1", "id": "abc", "name": "Autumn", "room": "the Mill Lane Room",
  "monitors": [ { "name": "Heron 6", "kind": "pair", "widthCm": 21.5, "heightCm": 33, "depthCm": 27,
                  "driverSpacingCm": 17.8, "crossoverHz": 2200 }, { "name": "Tarn 5", "kind": "single" } ],
  "orientations": [ "upright", "side, tweeters out" ],
  "stances": [ { "name": "Heron 6, upright" }, { "name": "Tarn 5, side, tweeters out" } ],
  "positions": [ { "name": "seat", "rightCm": 0, "backCm": 0, "upCm": 0 }, { "name": "sofa" },
                 { "name": "behind", "rightCm": -5, "backCm": 25.5, "upCm": 3 } ],
  "setUps": [ { "id": 1, "stance": "Heron 6, upright", "number": 1, "stoodUp": "2024-05-01T10:00:00+02:00" },
              { "id": 2, "stance": "Heron 6, upright", "number": 2, "stoodUp": "2024-05-02T10:00:00+02:00" },
              { "id": 7, "stance": "Tarn 5, side, tweeters out", "number": 1, "stoodUp": "" } ],
  "takes": [ { "id": "a", "setUp": 1, "position": "seat", "keep": true, "reason": "" },
             { "id": "b", "setUp": 1, "position": "behind", "keep": false, "reason": "A door fell shut." },
             { "id": "c", "setUp": 2, "position": "seat", "keep": true, "reason": "" },
             { "id": "d", "setUp": 7, "position": "sofa", "keep": true, "reason": "" } ]
})");
}

/** Sentence with which a spoilt trial is refused, read from its folder; empty if it was taken. */
std::string refusal(const std::function<void(Json&)>& spoil)
{
    const TemporaryFolder folder;
    auto json = goodJson();
    spoil(json);
    writeBytes(folder / "trial.json", toText(json));
    const auto trial = TrialFolder::open(folder.path());
    return trial ? std::string() : trial.problem().sentence();
}

DamageReport damageTrials(std::size_t count)
{
    const TemporaryFolder folder;
    return takeDamagedCopies(toText(goodJson()), count,
                             [&](const std::string& text)
                             {
                                 writeBytes(folder / "trial.json", text);
                                 const auto trial = TrialFolder::open(folder.path());
                                 if (trial && !trialFromJson(toJson(trial->trial()), "again"))
                                     throw std::runtime_error("taken once, refused again");
                                 return trial.ok();
                             });
}

}

TEST_CASE("A trial as JSON and back is the same, and reads as it was written by hand")
{
    const auto trial = trialFromJson(goodJson(), "trial.json");
    REQUIRE(trial);
    CHECK(toJson(*trial) == goodJson());
    CHECK(trial->monitors[0].crossoverHz == 2200.0);
    CHECK(trial->monitors[1].kind == Monitor::Kind::single);
    CHECK_FALSE(trial->monitors[1].widthCm);
    CHECK(trial->stances[1] == Stance{ "Tarn 5", "side, tweeters out" });
    CHECK(trial->positions[2].offsetCm == std::array{ -5.0, 25.5, 3.0 });
    CHECK_FALSE(trial->positions[1].offsetCm);
    CHECK(trial->setUps[2].id == 7);
    CHECK(trial->takes[1] == TakeEntry{ "b", 1, "behind", false, "A door fell shut." });
}

TEST_CASE("A damaged trial.json opens with a sentence that names the file and what is wrong")
{
    REQUIRE(refusal([](Json&) {}) == "");
    const std::pair<const char*, std::function<void(Json&)>> rows[] = {
        { "\"id\"", [](Json& j) { j["id"] = 5; } },
        { "\"name\"", [](Json& j) { j.erase("name"); } },
        { "\"room\"", [](Json& j) { j["room"] = true; } },
        { "\"monitors\"", [](Json& j) { j.erase("monitors"); } },
        { "\"monitors\"", [](Json& j) { j["monitors"] = 5; } },
        { "monitors 2", [](Json& j) { j["monitors"][1] = "Tarn 5"; } },
        { "\"kind\"", [](Json& j) { j["monitors"][0]["kind"] = "trio"; } },
        { "\"widthCm\"", [](Json& j) { j["monitors"][0]["widthCm"] = -1; } },
        { "\"crossoverHz\"", [](Json& j) { j["monitors"][0]["crossoverHz"] = "2k2"; } },
        { "\"orientations\"", [](Json& j) { j.erase("orientations"); } },
        { "\"orientations\"", [](Json& j) { j["orientations"][1] = 5; } },
        { "\"stances\"", [](Json& j) { j["stances"] = Json::object(); } },
        { "stances 1", [](Json& j) { j["stances"][0]["name"] = "Heron 6"; } },
        { "stances 2", [](Json& j) { j["stances"][1] = Json::object(); } },
        { "positions 1", [](Json& j) { j["positions"][0].erase("name"); } },
        { "\"backCm\"", [](Json& j) { j["positions"][2].erase("backCm"); } },
        { "\"rightCm\"", [](Json& j) { j["positions"][2]["rightCm"] = "5"; } },
        { "\"id\"", [](Json& j) { j["setUps"][0]["id"] = 1.5; } },
        { "setUps 2", [](Json& j) { j["setUps"][1].erase("stance"); } },
        { "\"setUp\"", [](Json& j) { j["takes"][0]["setUp"] = -1; } },
        { "\"keep\"", [](Json& j) { j["takes"][0]["keep"] = "yes"; } },
        { "takes 4", [](Json& j) { j["takes"][3]["reason"] = 5; } },
        { "takes 1", [](Json& j) { j["takes"][0] = nullptr; } },
    };
    for (const auto& [words, spoil] : rows)
    {
        INFO(words);
        CHECK_THAT(refusal(spoil), Contains(words) && Contains("trial.json"));
    }
}

namespace
{
/** The same with all that a trial may have or not. */
Json richJson()
{
    auto json = goodJson();
    json["discarded"] = Json::parse(R"([ { "id": "e", "setUp": 1, "position": "seat", "keep": false,
        "reason": "It clipped.", "discardedBecause": "A door." } ])");
    json["temperatureC"] = 21.5;
    json["microphone"] = "Serial 17";
    json["placement"] = { { "apartCm", 180.0 }, { "distanceCm", 200.0 }, { "heightCm", 120.0 } };
    json["placements"]["Heron 6, upright"] = { { "toeInDegrees", -30.0 } };
    json["weights"] = { { "evenness", 2.0 } };
    json["choice"] = { { "stance", "Heron 6, upright" },
                       { "date", "2024-05-03" },
                       { "reason", "Even bass." },
                       { "referenceTake", "a" },
                       { "trimDb", -1.5 } };
    return json;
}
}

TEST_CASE("What a trial may have or not is read, and written as it was")
{
    const auto trial = trialFromJson(richJson(), "trial.json");
    REQUIRE(trial);
    CHECK(toJson(*trial) == richJson());
    REQUIRE(trial->discarded.size() == 1);
    CHECK(trial->discarded[0].reason == "A door.");
    CHECK(trial->discarded[0].entry == TakeEntry{ "e", 1, "seat", false, "It clipped." });
    CHECK(trial->temperatureC == 21.5);
    CHECK(trial->microphone == "Serial 17");
    CHECK(trial->placement->heightCm == 120.0);
    CHECK_FALSE(trial->placement->toeInDegrees);
    CHECK(trial->placementOf("Heron 6, upright")->toeInDegrees == -30.0);
    CHECK(trial->weights.at("evenness") == 2.0);
    CHECK(trial->choice == Choice{ "Heron 6, upright", "2024-05-03", "Even bass.", "a", -1.5 });
}

TEST_CASE("What a trial may have or not is refused by name when it is damaged")
{
    const std::pair<const char*, std::function<void(Json&)>> rows[] = {
        { "discarded 1", [](Json& j) { j["discarded"][0].erase("id"); } },
        { "\"e\"", [](Json& j) { j["discarded"][0]["setUp"] = 9; } },
        { "\"a\"", [](Json& j) { j["discarded"][0]["id"] = "a"; } },
        { "../x", [](Json& j) { j["discarded"][0]["id"] = "../x"; } },
        { "\"discarded\"", [](Json& j) { j["discarded"] = 5; } },
        { "\"temperatureC\"", [](Json& j) { j["temperatureC"] = 100; } },
        { "\"microphone\"", [](Json& j) { j["microphone"] = 5; } },
        { "placement", [](Json& j) { j["placement"] = "near"; } },
        { "\"apartCm\"", [](Json& j) { j["placement"]["apartCm"] = -1; } },
        { "Tarn 5, upright", [](Json& j) { j["placements"]["Tarn 5, upright"] = Json::object(); } },
        { "\"toeInDegrees\"", [](Json& j) { j["placements"]["Heron 6, upright"]["toeInDegrees"] = 200; } },
        { "\"placements\"", [](Json& j) { j["placements"] = Json::array(); } },
        { "\"evenness\"", [](Json& j) { j["weights"]["evenness"] = -1; } },
        { "\"weights\"", [](Json& j) { j["weights"] = 5; } },
        { "\"stance\"", [](Json& j) { j["choice"].erase("stance"); } },
        { "Heron 7, upright", [](Json& j) { j["choice"]["stance"] = "Heron 7, upright"; } },
        { "another stance", [](Json& j) { j["choice"]["referenceTake"] = "d"; } },
        { "not listed", [](Json& j) { j["choice"]["referenceTake"] = "e"; } },
        { "\"trimDb\"", [](Json& j) { j["choice"]["trimDb"] = 100; } },
    };
    for (const auto& [words, spoil] : rows)
    {
        INFO(words);
        CHECK_THAT(refusal(
                       [&](Json& j)
                       {
                           j = richJson();
                           spoil(j);
                       }),
                   Contains(words) && Contains("trial.json"));
    }
}

TEST_CASE("Orientations are a list of names and nothing else")
{
    CHECK_THAT(refusal([](Json& j) { j["orientations"] = "upright"; }), Contains("\"orientations\""));
    CHECK_THAT(refusal(
                   [](Json& j) {
                       j["orientations"] = { { "a", "upright" } };
                   }),
               Contains("\"orientations\""));
}

TEST_CASE("References to what is not listed are refused with the name")
{
    CHECK_THAT(refusal([](Json& j) { j["setUps"][2]["stance"] = "Osier 8, upright"; }), Contains("set-up 7"));
    CHECK_THAT(refusal([](Json& j) { j["takes"][3]["setUp"] = 3; }), Contains("\"d\""));
    CHECK_THAT(refusal([](Json& j) { j["setUps"].erase(1); }), Contains("\"c\""));
    CHECK_THAT(refusal([](Json& j) { j["stances"].erase(0); }), Contains("set-up 1"));
}

TEST_CASE("A take at a position, and a stance of a monitor or an orientation, that is not listed is refused")
{
    CHECK_THAT(refusal([](Json& j) { j["takes"][1]["position"] = "balcony"; }), Contains("\"b\""));
    CHECK_THAT(refusal([](Json& j) { j["monitors"].erase(1); }), Contains("Tarn 5"));
    CHECK_THAT(refusal([](Json& j) { j["orientations"].erase(1); }), Contains("side, tweeters out"));
}

TEST_CASE("Two set-ups, takes, monitors, stances or positions of the same name are refused")
{
    CHECK(refusal(
              [](Json& j)
              {
                  j["setUps"][1]["id"] = 1;
                  j["takes"][2]["setUp"] = 1;
              }) != "");
    CHECK(refusal([](Json& j) { j["takes"][1]["id"] = "a"; }) != "");
    CHECK(refusal([](Json& j) { j["monitors"].push_back(j["monitors"][0]); }) != "");
    CHECK(refusal([](Json& j) { j["stances"].push_back(j["stances"][0]); }) != "");
    CHECK(refusal([](Json& j) { j["positions"].push_back(j["positions"][0]); }) != "");
}

TEST_CASE("A trial of a newer schema, one cut short, another file and no trial at all are refused")
{
    CHECK_THAT(refusal(
                   [](Json& j)
                   {
                       j["schema"] = "plumbline/trial/2";
                       j.erase("takes");
                   }),
               Contains("newer") && Contains("trial.json"));
    CHECK_THAT(refusal([](Json& j) { j["schema"] = "plumbline/capture/1"; }),
               Contains("plumbline/capture/1"));
    const TemporaryFolder folder;
    CHECK_THAT(TrialFolder::open(folder.path()).problem().sentence(),
               Contains("trial.json") && Contains("no such file"));
    CHECK_FALSE(TrialFolder::open(folder / "none"));
    writeBytes(folder / "file", "x");
    CHECK_FALSE(TrialFolder::open(folder / "file"));
    const auto text = toText(goodJson());
    for (std::size_t length = 0; length < text.size() - 1; length += 37)
    {
        writeBytes(folder / "trial.json", text.substr(0, length));
        CHECK(TrialFolder::open(folder.path()).problem().code == "not-json");
    }
}

TEST_CASE("A trial that was refused is not changed by the attempt")
{
    const TemporaryFolder folder;
    writeBytes(folder / "trial.json", "{ \"schema\": \"plumbline/trial/2\" }");
    CHECK_FALSE(TrialFolder::open(folder.path()));
    CHECK_FALSE(TrialFolder::create(folder.path(), "x"));
    CHECK(readBytes(folder / "trial.json") == "{ \"schema\": \"plumbline/trial/2\" }");
    CHECK(namesIn(folder.path()) == std::set<std::string>{ "trial.json" });
}

TEST_CASE("Keys that this version does not use survive the adding of a take")
{
    const TemporaryFolder folder;
    fs::create_directory(folder / "takes");
    auto json = goodJson();
    json["choice"] = { { "stance", "Heron 6, upright" },
                       { "date", "2024-05-03" },
                       { "reason", "Even bass." } };
    json["monitors"][0]["colour"] = "ash";
    json["corrections"] = Json::array({ { { "stance", "Heron 6, upright" }, { "boost", 3 } } });
    writeBytes(folder / "trial.json", toText(json));
    auto trial = TrialFolder::open(folder.path());
    REQUIRE(trial);
    REQUIRE(trial->add(takeOf(1)));
    const auto after = Json::parse(readBytes(folder / "trial.json"));
    CHECK(after["takes"].size() == 5);
    CHECK(after.value("choice", Json()) == json["choice"]);
    CHECK(after.value("corrections", Json()) == json["corrections"]);
    CHECK(after["monitors"][0].value("colour", "") == "ash");
}

TEST_CASE("Two thousand damaged trial.json are taken or refused, and no more")
{
    const auto report = damageTrials(2000);
    CHECK(report.failure == "");
    CHECK(report.taken > 20);
    CHECK(report.refused > 100);
}

TEST_CASE("Fifty thousand damaged trial.json are taken or refused", "[.long]")
{
    CHECK(damageTrials(50000).failure == "");
}
