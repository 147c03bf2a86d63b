// What could pass here for the wrong reason: a summary made anew from analysis.json each time. So one is changed on the
// disk by hand and must be believed, until the analysis beside it is another. A summary that agrees with itself: its
// figures are compared with those of analysis.json as JSON.

#include "Files/SummaryReader.h"
#include "Files/TrialFolder.h"

#include "Support/Damage.h"
#include "Support/TemporaryFolder.h"
#include "Support/TrialFolders.h"

#include <catch2/catch.hpp>
#include <cmath>

using namespace plumbline;
using namespace plumbline::test;
namespace fs = std::filesystem;

namespace
{

/** A take of curves with noise over two octaves and a half, known but for a few. */
TakeRecord curvedTake()
{
    auto record = takeOf(1);
    for (auto* side : { &record.analysis.left, &*record.analysis.right })
    {
        auto& curve = side->response;
        curve = {};
        for (int k = -60; k <= 60; ++k)
        {
            curve.frequencyHz.push_back(1000.0 * std::exp2(k / 48.0));
            curve.levelDb.push_back(-3.0 * std::sin(k * 0.1) - 0.00004);
            curve.phaseDeg.push_back(k);
            curve.noiseDb.push_back(-60.0 + 0.01 * k);
            curve.sdDb.push_back(0.01 + 0.0001 * std::abs(k));
            curve.known.push_back(k % 7 != 0);
        }
    }
    record.analysis.right->polarity = -1;
    record.analysis.faults = { { "low-level", Fault::Severity::note, "A note." },
                               { "clipped", Fault::Severity::doubt, "It clipped." } };
    return record;
}

struct Filed
{
    explicit Filed(const TakeRecord& record)
    {
        auto made = TrialFolder::create(folder / "t", "t");
        take = made->takeFolder(made->add(record).value());
    }

    TakeSummary read() const
    {
        auto summary = readSummary(take, true);
        REQUIRE(summary);
        return *summary;
    }

    const TemporaryFolder folder;
    fs::path take;
};

void checkCurve(const std::vector<float>& curve, const Json& values, const Json& known)
{
    REQUIRE(curve.size() == values.size());
    for (std::size_t i = 0; i < curve.size(); ++i)
        if (known[i].get<bool>())
            CHECK(std::abs(static_cast<double>(curve[i]) - values[i].get<double>()) < 6e-5);
        else
            CHECK((std::isnan(curve[i]) || !values[i].is_null()));
}

}

TEST_CASE("A summary says what analysis.json says, to the tenth of a thousandth of a decibel")
{
    const Filed filed(curvedTake());
    const auto analysis = Json::parse(readBytes(filed.take / "analysis.json"));
    const auto summary = filed.read();
    CHECK(summary.takeId == filed.take.filename().string());
    CHECK(summary.firstStep == -60);
    CHECK(summary.frequencyHz(60) == Approx(1000.0));
    CHECK(summary.sampleRateHz == 24000.0);
    CHECK(summary.temperatureC == 22.5);
    CHECK(summary.calibration == "Serial 17");
    CHECK(summary.levelIsSpl);
    CHECK(summary.smoothing == analysis["method"]["smoothing"]);
    CHECK(summary.smoothingPerOctave == 12);
    REQUIRE(summary.faults.size() == 2);
    CHECK(summary.faults[1].code == "clipped");
    CHECK(summary.faults[1].severity == Fault::Severity::doubt);
    CHECK(summary.faults[0].severity == Fault::Severity::note);
    CHECK(summary.faults[0].words == "A note.");
    REQUIRE(summary.right);
    for (const auto* name : { "left", "right" })
    {
        const auto& side = std::string(name) == "left" ? summary.left : *summary.right;
        const auto& response = analysis["sides"][name]["response"];
        checkCurve(side.levelDb, response["levelDb"], response["known"]);
        checkCurve(side.noiseDb, response["noiseDb"], response["known"]);
        checkCurve(side.sdDb, response["sdDb"], response["known"]);
        CHECK(std::isnan(side.levelDb[4])); // k = -56
        CHECK(side.travelTimeSeconds == 0.0031);
    }
    CHECK(summary.left.polarity == 1);
    CHECK(summary.right->polarity == -1);
}

TEST_CASE("A single monitor's summary has one side, and gaps of a curve are unknown")
{
    auto record = takeOf(1);
    record.analysis.right.reset();
    record.filing.kind = Monitor::Kind::single;
    const Filed filed(record);
    const auto summary = filed.read();
    CHECK_FALSE(summary.right);
    CHECK(summary.left.noiseDb.empty());
    REQUIRE(summary.left.levelDb.size() == 97); // 500 Hz to 2 kHz
    CHECK(summary.left.levelDb.front() == -1.0f);
    CHECK(summary.left.levelDb.back() == -2.5f);
    CHECK(std::isnan(summary.left.levelDb[20]));
}

TEST_CASE("A summary is believed while its analysis is the same, and made again when it is not")
{
    const Filed filed(curvedTake());
    const auto file = filed.take / "summary.json";
    const auto good = readBytes(file);
    auto changed = good;
    changed.replace(changed.find("24000"), 5, "44100");
    writeBytes(file, changed);
    CHECK(filed.read().sampleRateHz == 44100.0); // read, not made again
    SECTION("the analysis is younger")
    {
        fs::last_write_time(filed.take / "analysis.json",
                            fs::last_write_time(filed.take / "analysis.json") + std::chrono::seconds(1));
    }
    SECTION("the summary is damaged")
    {
        writeBytes(file, changed.substr(0, changed.size() / 2));
    }
    SECTION("the summary is gone")
    {
        fs::remove(file);
    }
    SECTION("the summary is of another version")
    {
        auto other = changed;
        other.replace(other.find("summary/1"), 9, "summary/9");
        writeBytes(file, other);
    }
    CHECK(filed.read().sampleRateHz == 24000.0);
    const auto again = Json::parse(readBytes(file));
    CHECK(again["schema"] == "plumbline/summary/1");
    CHECK(again["left"] == Json::parse(good)["left"]);
}

TEST_CASE("A take without a sound analysis is named, and the others are read")
{
    const TemporaryFolder folder;
    auto trial = TrialFolder::create(folder / "t", "t");
    std::vector<std::string> ids;
    for (std::uint64_t n = 0; n < 3; ++n)
        ids.push_back(trial->add(curvedTake()).value());
    CHECK(trial->summaries().takes.size() == 3);
    CHECK(trial->summaries().notes.empty());
    writeBytes(trial->takeFolder(ids[0]) / "analysis.json", "{");
    fs::remove(trial->takeFolder(ids[1]) / "analysis.json");
    const auto reading = trial->summaries();
    REQUIRE(reading.takes.size() == 1);
    CHECK(reading.takes[0].takeId == ids[2]);
    REQUIRE(reading.notes.size() == 2);
    CHECK(reading.notes[0].code == "analysis-damaged");
    CHECK(reading.notes[1].code == "analysis-missing");
    CHECK_THAT(reading.notes[0].sentence(), Catch::Contains(ids[0]));
}

TEST_CASE("Two thousand damaged summaries are taken or made again, and no more")
{
    const Filed filed(curvedTake());
    const auto report = takeDamagedCopies(
        readBytes(filed.take / "summary.json"), 2000,
        [&](const std::string& text) { return parseSummary(text).has_value(); }, 1500);
    CHECK(report.failure == "");
    CHECK(report.taken > 20);
    CHECK(report.refused > 100);
}
