// What could pass here for the wrong reason: a reader that takes anything. Each damage is one change of a file that
// reads well without it.

#include "Files/StoredAnalysis.h"

#include "Files/AnalysisFile.h"
#include "Support/TrialFolders.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <functional>
#include <limits>

using namespace plumbline;
using namespace plumbline::test;

namespace
{
constexpr double nan = std::numeric_limits<double>::quiet_NaN();

TakeAnalysis analysisWithNoise()
{
    auto analysis = takeOf(1).analysis;
    analysis.settings.smoothing = { 6 };
    analysis.faults = { { "low-level", Fault::Severity::note, "A note." },
                        { "clipped", Fault::Severity::doubt, "A \"doubt\"." } };
    auto& left = analysis.left.response;
    left.levelDb = { -1.0 / 3.0, nan, 1e-300 };
    left.noiseDb = { -60.0, -2.0, -61.5 };
    left.sdDb = { 0.01, nan, 0.02 };
    return analysis;
}

struct StoredFile
{
    TemporaryFolder folder;
    std::filesystem::path file = folder / "analysis.json";

    Result<StoredAnalysis> read(const Json& value) const
    {
        writeBytes(file, toText(value));
        return readStoredAnalysis(file);
    }
};

bool same(double a, double b)
{
    return a == b || (std::isnan(a) && std::isnan(b));
}

void checkSame(const FrequencyResponse& read, const FrequencyResponse& written)
{
    REQUIRE(read.frequencyHz == written.frequencyHz);
    CHECK(read.known == written.known);
    REQUIRE(read.noiseDb.size() == written.noiseDb.size());
    REQUIRE(read.sdDb.size() == written.sdDb.size());
    for (std::size_t i = 0; i < read.frequencyHz.size(); ++i)
    {
        const double unknown = written.known[i] ? 0.0 : nan;
        CHECK(same(read.levelDb[i], written.levelDb[i] + unknown));
        CHECK(same(read.phaseDeg[i], written.phaseDeg[i] + unknown));
        if (!read.noiseDb.empty())
        {
            CHECK(same(read.noiseDb[i], written.noiseDb[i]));
            CHECK(same(read.sdDb[i], written.sdDb[i] + unknown));
        }
    }
}
}

TEST_CASE("What an analysis file tells is read back, to the last bit where it is known")
{
    const StoredFile stored;
    const auto analysis = analysisWithNoise();
    const auto read = stored.read(toJson(analysis));
    REQUIRE(read);
    checkSame(read->left, analysis.left.response);
    REQUIRE(read->right);
    checkSame(*read->right, analysis.right->response);
    CHECK(read->right->noiseDb.empty()); // it had none
    CHECK(read->smoothing == "1/6 octave, power, rectangular");
    CHECK(read->levelIsSpl);
    REQUIRE(read->faults.size() == 2);
    CHECK(read->faults[0].severity == Fault::Severity::note);
    CHECK(read->faults[1].severity == Fault::Severity::doubt);
    CHECK(read->faults[1].code == "clipped");
    CHECK(read->faults[1].words == "A \"doubt\".");
}

TEST_CASE("A single monitor and a level without reference to sound pressure are read as such")
{
    const StoredFile stored;
    auto analysis = analysisWithNoise();
    analysis.right.reset();
    analysis.settings.microphone.sensitivityDbSpl.reset();
    const auto read = stored.read(toJson(analysis));
    REQUIRE(read);
    CHECK_FALSE(read->right);
    CHECK_FALSE(read->levelIsSpl);
}

TEST_CASE("An analysis file that is damaged is refused, and it is said where")
{
    struct Row
    {
        const char* name;
        std::function<void(Json&)> damage;
        const char* word; ///< in the problem's sentence
    };

    auto curve = [](Json& value) -> Json& { return value["sides"]["left"]["response"]; };
    const Row rows[] = {
        { "no frequencies", [&](Json& v) { curve(v).erase("frequencyHz"); }, "frequencyHz" },
        { "level too short", [&](Json& v) { curve(v)["levelDb"].erase(0); }, "levelDb" },
        { "level too long", [&](Json& v) { curve(v)["levelDb"].push_back(1.0); }, "levelDb" },
        { "level of text", [&](Json& v) { curve(v)["levelDb"][0] = "loud"; }, "levelDb" },
        { "level a number", [&](Json& v) { curve(v)["levelDb"] = 1.0; }, "levelDb" },
        { "no phase", [&](Json& v) { curve(v).erase("phaseDeg"); }, "phaseDeg" },
        { "phase too short", [&](Json& v) { curve(v)["phaseDeg"].erase(0); }, "phaseDeg" },
        { "noise too short", [&](Json& v) { curve(v)["noiseDb"].erase(0); }, "noiseDb" },
        { "deviation too short", [&](Json& v) { curve(v)["sdDb"].erase(0); }, "sdDb" },
        { "no mask", [&](Json& v) { curve(v).erase("known"); }, "known" },
        { "mask too short", [&](Json& v) { curve(v)["known"].erase(0); }, "known" },
        { "mask of numbers", [&](Json& v) { curve(v)["known"][0] = 1; }, "known" },
        { "right damaged", [](Json& v) { v["sides"]["right"]["response"].erase("levelDb"); }, "right" },
        { "no left", [](Json& v) { v["sides"].erase("left"); }, "left" },
        { "no response", [](Json& v) { v["sides"]["left"].erase("response"); }, "response" },
        { "sides a list", [](Json& v) { v["sides"] = Json::array(); }, "sides" },
        { "no sides", [](Json& v) { v.erase("sides"); }, "sides" },
        { "no method", [](Json& v) { v.erase("method"); }, "method" },
        { "newer", [](Json& v) { v["schema"] = "plumbline/analysis/2"; }, "newer" },
        { "another schema", [](Json& v) { v["schema"] = "plumbline/trial/1"; }, "trial" },
        // What would be drawn wrong.
        { "a frequency unknown", [&](Json& v) { curve(v)["frequencyHz"][1] = nullptr; }, "frequencyHz" },
        { "a frequency of nought", [&](Json& v) { curve(v)["frequencyHz"][0] = 0.0; }, "frequencyHz" },
        { "frequencies that fall", [&](Json& v) { curve(v)["frequencyHz"][1] = 100.0; }, "frequencyHz" },
        { "known, but no level", [&](Json& v) { curve(v)["levelDb"][0] = nullptr; }, "levelDb" },
    };
    const StoredFile stored;
    const auto whole = toJson(analysisWithNoise());
    REQUIRE(stored.read(whole));
    for (const auto& row : rows)
    {
        INFO(row.name);
        auto value = whole;
        row.damage(value);
        const auto read = stored.read(value);
        CHECK_FALSE(read);
        if (!read)
        {
            CHECK_THAT(read.problem().sentence(), Catch::Contains(row.word));
            CHECK_THAT(read.problem().where, Catch::Contains("analysis.json"));
        }
    }
}

TEST_CASE("A missing analysis, a folder and half a file are refused")
{
    const StoredFile stored;
    CHECK(readStoredAnalysis(stored.file).problem().code == "missing");
    CHECK(readStoredAnalysis(stored.folder.path()).problem().code == "is-a-folder");
    const auto text = toText(toJson(analysisWithNoise()));
    writeBytes(stored.file, text.substr(0, text.size() / 2));
    CHECK(readStoredAnalysis(stored.file).problem().code == "not-json");
}
