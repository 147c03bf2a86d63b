// What could pass here for the wrong reason: a rebuilt stimulus compared with itself. The one that is
// rebuilt has been through text and has seen nothing but the JSON; and the formula of the sweep, written out
// here from the JSON's numbers alone, must give the same samples. A damaged file refused for another damage:
// each differs from a good one in one key, and the sentence must name it.

#include "Files/StimulusFile.h"

#include "Files/AnalysisFile.h"
#include "Support/StimulusJson.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <cstring>
#include <functional>
#include <numbers>

using namespace plumbline;
using namespace plumbline::test;
using Catch::Matchers::Contains;

namespace
{

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

/** Sentence of the refusal; empty if it was taken. */
std::string refusal(const Json& value)
{
    const auto stimulus = stimulusFromJson(value, "S.json");
    return stimulus ? std::string() : stimulus.problem().sentence();
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
    REQUIRE(refusal(goodStimulusJson()) == "");
    for (const auto& row : rows)
    {
        auto changed = [&](const Json& value)
        {
            auto json = goodStimulusJson();
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
        auto json = goodStimulusJson();
        json["sweep"][key] = json["sweep"][key].get<double>() + 0.5;
        CHECK_THAT(refusal(json), Contains("\"" + std::string(key) + "\" must be a whole number"));
    }
}

TEST_CASE("Parts that are missing or of another kind are refused by name")
{
    for (const char* key : { "sweep", "layout", "channels" })
    {
        auto json = goodStimulusJson();
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
        auto json = goodStimulusJson();
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
        auto json = goodStimulusJson();
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
    CHECK(notesOf(toText(goodStimulusJson()).substr(0, 300)).problem().code == "not-json");
    CHECK(notesOf(toText(goodStimulusJson())));
}

TEST_CASE("A stimulus file knows the stimulus alone")
{
    const auto notes = notesOf(toText(goodStimulusJson()));
    REQUIRE(notes);
    CHECK(notes->stimulus.sweep == severalStimuli()[0].sweep);
    CHECK_FALSE((notes->stimulusStart || notes->referenceChannel || notes->calibration ||
                 notes->sensitivityDbSpl || notes->temperatureC));
}
