// What could pass here for the wrong reason: a rebuilt stimulus compared with itself. The one that is
// rebuilt has been through text and has seen nothing but the JSON; and the formula of the sweep, written out
// here from the JSON's numbers alone, must give the same samples. A damaged file refused for another damage:
// each differs from a good one in one key, and the sentence must name it.

#include "Files/StimulusFile.h"

#include "Files/AnalysisFile.h"
#include "Support/Damage.h"
#include "Support/TemporaryFolder.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <cstring>
#include <numbers>

using namespace plumbline;
using namespace plumbline::test;
using Catch::Matchers::Contains;

namespace
{

Stimulus designed(double rate, double seconds, Band band, double levelDbfs, bool pair = true)
{
    StimulusSpec spec;
    spec.sampleRateHz = rate;
    spec.seconds = seconds;
    spec.band = band;
    spec.levelDbfs = levelDbfs;
    spec.pair = pair;
    spec.leadInSeconds = 0.7654321;
    spec.silenceSeconds = 1.2345678;
    return designStimulus(spec).value();
}

const std::vector<Stimulus>& severalStimuli()
{
    static const std::vector<Stimulus> all{ designed(48000.0, 1.0, { 20.0, 20000.0 }, -40.0),
                                            designed(44100.0, 1.37, { 31.7, 16000.3 }, -20.123456789, false),
                                            designed(8000.0, 1.0, { 5.0, 3000.0 }, -6.0),
                                            designed(96000.0, 1.1, { 1000.0 / 3.0, 2000.0 }, -119.99, false),
                                            designed(192000.0, 1.0, { 10.0, 40000.0 }, -17.0) };
    return all;
}

bool sameBits(const std::vector<std::vector<float>>& a, const std::vector<std::vector<float>>& b)
{
    if (a.size() != b.size())
        return false;
    for (std::size_t c = 0; c < a.size(); ++c)
        if (a[c].size() != b[c].size() ||
            std::memcmp(a[c].data(), b[c].data(), a[c].size() * sizeof(float)) != 0)
            return false;
    return true;
}

Json goodJson()
{
    return toJson(severalStimuli()[0]);
}

/** Sentence of the refusal; empty if it was taken. */
std::string refusal(const Json& value)
{
    const auto stimulus = stimulusFromJson(value, "S.json");
    return stimulus ? std::string() : stimulus.problem().sentence();
}

Result<CaptureNotes> notesOf(const std::string& text)
{
    const TemporaryFolder folder;
    writeBytes(folder / "S.json", text);
    return readCaptureNotes(folder / "S.json");
}

/** A take's capture.json with everything that can be known. */
Json goodCapture()
{
    return { { "schema", "plumbline/capture/1" },
             { "stimulus", goodJson() },
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

}

TEST_CASE(
    "The JSON rebuilds the very same samples, at every rate, band and level, for a pair and for one monitor")
{
    for (const auto& stimulus : severalStimuli())
    {
        const auto text = toText(toJson(stimulus));
        const auto rebuilt = stimulusFromJson(Json::parse(text), "S.json");
        INFO(text);
        REQUIRE(rebuilt);
        CHECK(rebuilt->sweep == stimulus.sweep);
        CHECK(rebuilt->rightStart == stimulus.rightStart);
        CHECK(rebuilt->totalSamples == stimulus.totalSamples);
        CHECK(rebuilt->spec.levelDbfs == stimulus.spec.levelDbfs);
        CHECK(rebuilt->spec.band == stimulus.spec.band);
        CHECK(rebuilt->spec.pair == stimulus.spec.pair);
        CHECK(sameBits(stimulusChannels(*rebuilt), stimulusChannels(stimulus)));
        CHECK(toText(toJson(*rebuilt)) == text);
    }
}

TEST_CASE("The formula of the sweep with nothing but the JSON's numbers gives the samples too")
{
    for (const auto& stimulus : severalStimuli())
    {
        const auto json = Json::parse(toText(toJson(stimulus)));
        const auto& sweep = json["sweep"];
        const double rate = json["sampleRateHz"], start = sweep["startHz"], length = sweep["rateSeconds"];
        const double peak = std::pow(10.0, json["levelDbfs"].get<double>() / 20.0);
        const std::size_t samples = sweep["samples"], in = sweep["fadeInSamples"],
                          out = sweep["fadeOutSamples"];
        auto rise = [](double index, double count) // of a half-cosine, at the middle of each sample
        { return index >= count ? 1.0 : 0.5 - 0.5 * std::cos(std::numbers::pi * (index + 0.5) / count); };
        const auto channels = stimulusChannels(stimulus);
        REQUIRE(channels.size() == json["channels"].size());
        CHECK(json["channels"] == (channels.size() == 2 ? Json{ "left", "right" } : Json::array({ "left" })));
        for (std::size_t c = 0; c < channels.size(); ++c)
        {
            const std::size_t first = json["layout"][c == 0 ? "leftStartSample" : "rightStartSample"];
            REQUIRE(channels[c].size() == json["layout"]["totalSamples"].get<std::size_t>());
            double worst = 0.0;
            for (std::size_t i = 0; i < channels[c].size(); ++i)
            {
                const double n = static_cast<double>(i) - static_cast<double>(first);
                double wanted = 0.0;
                if (i >= first && i < first + samples)
                    wanted = peak *
                             std::sin(2.0 * std::numbers::pi * start * length * std::exp(n / rate / length)) *
                             rise(n, static_cast<double>(in)) *
                             rise(static_cast<double>(samples) - 1.0 - n, static_cast<double>(out));
                worst = std::max(worst, std::abs(static_cast<double>(channels[c][i]) - wanted));
            }
            CHECK(worst < 1e-7 * peak); // half a step of a 32-bit float at the peak is 6e-8 of it
        }
    }
}

TEST_CASE("Each damaged key is refused with its name and the file's")
{
    struct Row
    {
        const char* part;
        const char* key;
        Json low, high;
    };

    const Row rows[] = {
        { "", "sampleRateHz", 7999.0, 400001.0 },
        { "", "seconds", 0.99, 30.1 },
        { "", "fromHz", 4.9, 24001.0 },
        { "", "toHz", 19.0, 24001.0 },
        { "", "levelDbfs", -120.5, -5.9 },
        { "sweep", "startHz", 0.5, 24001.0 },
        { "sweep", "endHz", 1.0, 24001.0 },
        { "sweep", "rateSeconds", 0.0, 60.5 },
        { "sweep", "samples", -1, 1e12 },
        { "sweep", "fadeInSamples", -1, 1e9 },
        { "sweep", "fadeOutSamples", -1, 1e9 },
        { "layout", "leadInSamples", -1, 1e12 },
        { "layout", "leftStartSample", -1, 1e12 },
        { "layout", "rightStartSample", -1, 1e12 },
        { "layout", "silenceSamples", -1, 1e12 },
        { "layout", "totalSamples", -1, 1e12 },
    };
    REQUIRE(refusal(goodJson()) == "");
    for (const auto& row : rows)
    {
        auto changed = [&](const Json& value)
        {
            auto json = goodJson();
            (*row.part == '\0' ? json : json[row.part])[row.key] = value;
            return json;
        };
        for (const auto& bad :
             { row.low, row.high, Json("48000"), Json(true), Json::array({ 1 }), Json::object() })
        {
            INFO(row.part << " " << row.key << " = " << bad.dump());
            CHECK_THAT(refusal(changed(bad)),
                       Contains("\"" + std::string(row.key) + "\"") && Contains("S.json"));
        }
        if (std::string(row.key) != "rightStartSample") // left out, it is one monitor: see below
        {
            INFO(row.key);
            CHECK_THAT(refusal(changed(nullptr)), Contains("\"" + std::string(row.key) + "\" is missing"));
        }
    }
}

TEST_CASE("Whole numbers of samples must be whole")
{
    for (const char* key : { "samples", "fadeInSamples", "fadeOutSamples" })
    {
        auto json = goodJson();
        json["sweep"][key] = json["sweep"][key].get<double>() + 0.5;
        CHECK_THAT(refusal(json), Contains("\"" + std::string(key) + "\" must be a whole number"));
    }
}

TEST_CASE("Parts that are missing or of another kind are refused by name")
{
    for (const char* key : { "sweep", "layout", "channels" })
    {
        auto json = goodJson();
        json.erase(key);
        INFO(key);
        CHECK_THAT(refusal(json), Contains("\"" + std::string(key) + "\""));
        for (const auto& other : { Json(5), Json("x"), Json::array(), Json(true) })
        {
            json[key] = other;
            CHECK_THAT(refusal(json), Contains("\"" + std::string(key) + "\""));
        }
    }
}

TEST_CASE("Numbers that contradict each other are refused by the part they stand in")
{
    const auto refusalOf = [](const std::function<void(Json&)>& spoil)
    {
        auto json = goodJson();
        spoil(json);
        return refusal(json);
    };
    const auto plus = [](Json& value, double more) { value = value.get<double>() + more; };
    CHECK_THAT(refusalOf([&](Json& j) { plus(j["sweep"]["samples"], 2); }),
               Contains("\"sweep\"") && Contains("length"));
    CHECK_THAT(refusalOf([&](Json& j) { plus(j["sweep"]["samples"], -2); }),
               Contains("\"sweep\"") && Contains("length"));
    CHECK_THAT(refusalOf([&](Json& j) { plus(j["sweep"]["rateSeconds"], 0.001); }),
               Contains("\"sweep\"") && Contains("whole"));
    CHECK_THAT(refusalOf([&](Json& j) { plus(j["sweep"]["startHz"], 0.01); }),
               Contains("\"sweep\"") && Contains("whole"));
    CHECK_THAT(refusalOf([&](Json& j) { plus(j["sweep"]["endHz"], 10.0); }),
               Contains("\"sweep\"") && Contains("length"));
    CHECK_THAT(refusalOf([&](Json& j) { j["fromHz"] = 10.0; }), Contains("band"));
    CHECK_THAT(refusalOf([&](Json& j) { j["toHz"] = 23999.0; }), Contains("band"));
    CHECK_THAT(refusalOf([&](Json& j) { j["sampleRateHz"] = 96000.0; }),
               Contains("\"sweep\"") && Contains("length"));
    for (const char* key :
         { "leadInSamples", "leftStartSample", "rightStartSample", "silenceSamples", "totalSamples" })
        CHECK_THAT(refusalOf([&](Json& j) { plus(j["layout"][key], 1); }),
                   Contains("\"layout\"") && Contains("add up"));
    CHECK_THAT(refusalOf([&](Json& j) { j["layout"].erase("rightStartSample"); }), Contains("\"layout\""));
    CHECK_THAT(refusalOf([&](Json& j) { j["channels"] = Json::array({ "left" }); }),
               Contains("\"channels\""));
    CHECK_THAT(refusalOf([&](Json& j) { j["channels"] = { "right", "left" }; }), Contains("\"channels\""));
}

TEST_CASE("A stimulus of a newer schema, of another one and of none is refused, each in its own words")
{
    const auto refusalOf = [](const Json& schema)
    {
        auto json = goodJson();
        json["schema"] = schema;
        const auto notes = notesOf(toText(json));
        return notes ? std::string() : notes.problem().code + ": " + notes.problem().sentence();
    };
    CHECK_THAT(refusalOf("plumbline/stimulus/2"),
               Contains("future-schema") && Contains("newer") && Contains("S.json"));
    CHECK_THAT(refusalOf("plumbline/analysis/1"),
               Contains("other-schema") && Contains("plumbline/analysis/1"));
    CHECK_THAT(refusalOf("plumbline/stimulus/0"), Contains("other-schema"));
    CHECK_THAT(refusalOf(5), Contains("no-schema"));
    CHECK(notesOf("[]").problem().code == "no-schema");
    CHECK(notesOf("RIFF....WAVE").problem().code == "not-json");
    CHECK(notesOf("").problem().code == "not-json");
    CHECK(notesOf(toText(goodJson()).substr(0, 300)).problem().code == "not-json");
    CHECK(notesOf(toText(goodJson())));
}

TEST_CASE("A stimulus file knows the stimulus alone")
{
    const auto notes = notesOf(toText(goodJson()));
    REQUIRE(notes);
    CHECK(notes->stimulus.sweep == severalStimuli()[0].sweep);
    CHECK_FALSE((notes->stimulusStart || notes->referenceChannel || notes->calibration ||
                 notes->sensitivityDbSpl || notes->temperatureC));
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

namespace
{
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
