// What could pass here for the wrong reason: a key that is never read. Every value of the good capture.json
// is unlike what stands for "not known", and comes back as it was written. A damaged file refused for another
// damage: each differs from the good one, which is taken, in one key, and the sentence must name it. A random
// damage that never matters, to a capture.json or to the stimulus and the calibration inside it: how many
// were taken, and how many refused, is counted.

#include "Files/AnalysisFile.h"
#include "Files/StimulusFile.h"
#include "Support/Damage.h"
#include "Support/StimulusJson.h"
#include "Support/TemporaryFolder.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <functional>
#include <stdexcept>

using namespace plumbline;
using namespace plumbline::test;
using Catch::Matchers::Contains;

namespace
{

/** A take's capture.json with everything that can be known. */
Json goodCapture()
{
    return { { "schema", "plumbline/capture/1" },
             { "stimulus", goodStimulusJson() },
             { "stimulusStartSample", -123 },
             { "referenceChannel", 2 },
             { "calibration",
               { { "name", "Serial 17" },
                 { "points", { { 20.0, -1.25, 10.5 }, { 1000.0, 0.0, 0.0 }, { 20000.0, 3.5, -20.0 } } } } },
             { "sensitivityDbSpl", 121.5 },
             { "temperatureC", 23.25 } };
}

std::string captureRefusal(const Json& value)
{
    const auto notes = notesOf(toText(value));
    return notes ? std::string() : notes.problem().sentence();
}

/** What is taken must also be fit to be played. */
bool takeStimulus(const Result<Stimulus>& stimulus)
{
    if (stimulus && stimulus->sweep.samples < 100000 && stimulus->totalSamples < 400000)
        for (const auto& channel : stimulusChannels(*stimulus))
            for (const float sample : channel)
                if (!(std::abs(sample) <= 0.5012f)) // the ceiling of -6 dBFS
                    throw std::runtime_error("too loud, or no number");
    return stimulus.ok();
}

DamageReport damageStimuli(std::size_t count)
{
    const auto good = toText(toJson(designed(8000.0, 1.0, { 20.0, 3000.0 }, -20.0)));
    return takeDamagedCopies(good, count,
                             [](const std::string& text)
                             {
                                 const auto value = Json::parse(text, nullptr, false);
                                 return takeStimulus(stimulusFromJson(value, "S.json"));
                             });
}

DamageReport damageCaptures(std::size_t count)
{
    const TemporaryFolder folder;
    auto capture = goodCapture();
    capture["stimulus"] = toJson(designed(8000.0, 1.0, { 20.0, 3000.0 }, -20.0));
    return takeDamagedCopies(toText(capture), count,
                             [&](const std::string& text)
                             {
                                 writeBytes(folder / "capture.json", text);
                                 const auto notes = readCaptureNotes(folder / "capture.json");
                                 if (notes && notes->calibration &&
                                     !std::isfinite(notes->calibration->levelDb(440.0)))
                                     throw std::runtime_error("a calibration without a level");
                                 return notes.ok();
                             });
}

DamageReport damageCalibrations(std::size_t count)
{
    const std::string good =
        "# Serial 17\n* Hz dB degrees\n20, -1.25, 10.5\n100\t0.5\t3\n1000 +0.0 0\r\n20000 3.5e0 -20\n";
    return takeDamagedCopies(good, count,
                             [](const std::string& text)
                             {
                                 const auto calibration = parseCalibration("c.txt", text);
                                 if (calibration && !std::isfinite(calibration->levelDb(440.0)))
                                     throw std::runtime_error("a calibration without a level");
                                 return calibration.ok();
                             });
}

void checkReport(const DamageReport& report)
{
    CHECK(report.failure == "");
    CHECK(report.taken > 20);
    CHECK(report.refused > 100);
}

}

TEST_CASE("A take's capture.json knows how it was captured")
{
    const auto notes = notesOf(toText(goodCapture()));
    REQUIRE(notes);
    CHECK(notes->stimulus.sweep == severalStimuli()[0].sweep);
    CHECK(notes->stimulusStart == -123);
    CHECK(notes->referenceChannel == 2);
    CHECK(notes->sensitivityDbSpl == 121.5);
    CHECK(notes->temperatureC == 23.25);
    REQUIRE(notes->calibration);
    CHECK(notes->calibration->name() == "Serial 17");
    CHECK(notes->calibration->hasPhase());
    REQUIRE(notes->calibration->points().size() == 3);
    CHECK(notes->calibration->points()[0] == Calibration::Point{ 20.0, -1.25, 10.5 });
    CHECK(notes->calibration->points()[2] == Calibration::Point{ 20000.0, 3.5, -20.0 });

    auto bare = goodCapture();
    for (const char* key :
         { "stimulusStartSample", "referenceChannel", "calibration", "sensitivityDbSpl", "temperatureC" })
        bare[key] = nullptr;
    const auto little = notesOf(toText(bare));
    REQUIRE(little);
    CHECK_FALSE((little->stimulusStart || little->referenceChannel || little->calibration ||
                 little->sensitivityDbSpl || little->temperatureC));
}

TEST_CASE("Each damaged key of a capture.json is refused by name")
{
    REQUIRE(captureRefusal(goodCapture()) == "");
    const std::pair<const char*, Json> rows[] = {
        { "stimulusStartSample", "0" }, { "stimulusStartSample", 1e12 },  { "stimulusStartSample", 0.5 },
        { "referenceChannel", 0 },      { "referenceChannel", 257 },      { "referenceChannel", 1.5 },
        { "referenceChannel", "2" },    { "sensitivityDbSpl", -1.0 },     { "sensitivityDbSpl", "120" },
        { "temperatureC", 61.0 },       { "temperatureC", true },         { "calibration", 5 },
        { "calibration", "Serial 17" }, { "calibration", Json::array() },
    };
    for (const auto& [key, bad] : rows)
    {
        auto json = goodCapture();
        json[key] = bad;
        INFO(key << " = " << bad.dump());
        CHECK_THAT(captureRefusal(json), Contains(key) && Contains("S.json"));
    }
    auto json = goodCapture();
    json["stimulus"]["sweep"]["samples"] = -5;
    CHECK_THAT(captureRefusal(json), Contains("\"samples\""));
}

TEST_CASE("A calibration inside a capture.json is read as strictly as a calibration file")
{
    const auto refusalOf = [](const std::function<void(Json&)>& spoil)
    {
        auto json = goodCapture();
        spoil(json["calibration"]);
        return captureRefusal(json);
    };
    CHECK_THAT(refusalOf(
                   [](Json& c) {
                       c["points"] = Json::array({ { 20.0, 0.0, 0.0 } });
                   }),
               Contains("two points"));
    CHECK_THAT(refusalOf([](Json& c) { c["points"][1][0] = 5.0; }), Contains("ascend"));
    CHECK_THAT(refusalOf([](Json& c) { c["points"][1][1] = 101.0; }), Contains("calibration"));
    CHECK_THAT(refusalOf([](Json& c) { c["points"][1] = { 1000.0, 0.0 }; }), Contains("calibration"));
    CHECK_THAT(refusalOf([](Json& c) { c["points"][1][2] = "0"; }), Contains("calibration"));
    CHECK_THAT(refusalOf([](Json& c) { c["points"] = 5; }), Contains("calibration"));
    CHECK_THAT(refusalOf([](Json& c) { c.erase("points"); }), Contains("calibration"));
    CHECK_THAT(refusalOf([](Json& c) { c["name"] = 5; }), Contains("\"name\""));
    CHECK_THAT(refusalOf([](Json& c) { c.erase("name"); }), Contains("\"name\""));
}

TEST_CASE("A calibration inside a capture.json has phase in every point or in none")
{
    auto json = goodCapture();
    json["calibration"]["points"][2][2] = nullptr;
    CHECK_THAT(captureRefusal(json), Contains("calibration"));
    for (auto& point : json["calibration"]["points"])
        point[2] = nullptr;
    const auto notes = notesOf(toText(json));
    REQUIRE(notes);
    CHECK_FALSE(notes->calibration->hasPhase());
}

TEST_CASE("A capture.json of a newer schema is refused as newer, one without a stimulus by that name")
{
    auto json = goodCapture();
    json["schema"] = "plumbline/capture/2";
    const auto newer = notesOf(toText(json));
    REQUIRE_FALSE(newer);
    CHECK(newer.problem().code == "future-schema");
    json = goodCapture();
    json.erase("stimulus");
    CHECK_THAT(captureRefusal(json), Contains("\"stimulus\" is missing"));
}

TEST_CASE("A calibration of frequencies that no sound has is refused, or still has a level everywhere")
{
    for (const char* text : { "1e-320 -1\n20000 1\n", "20 -1\n1e308 1\n", "1e-300 -1\n1e300 1\n" })
    {
        const auto calibration = parseCalibration("c.txt", text);
        INFO(text);
        for (const double hz : { 20.0, 440.0, 20000.0 })
            CHECK((!calibration || std::abs(calibration->levelDb(hz)) <= 1.0));
    }
}

TEST_CASE("Two thousand damaged stimuli, capture.json and calibrations each are taken or refused")
{
    checkReport(damageStimuli(2000));
    checkReport(damageCaptures(2000));
    checkReport(damageCalibrations(2000));
}

TEST_CASE("Fifty thousand damaged stimuli, capture.json and calibrations each are taken or refused",
          "[.long]")
{
    checkReport(damageStimuli(50000));
    checkReport(damageCaptures(50000));
    checkReport(damageCalibrations(50000));
}
