// What could pass here for the wrong reason: a trial read back from memory. Every look at one opens the
// folder anew. A take that is named and not whole, or changed by a later one: its three files are read, and
// their bytes and times kept beside. A failed step that left its rubbish: what the folders hold is counted.

#include "Files/TrialFolder.h"

#include "Files/AnalysisFile.h"
#include "Files/StimulusFile.h"
#include "Files/WavFile.h"
#include "Support/TemporaryFolder.h"
#include "Support/TrialFolders.h"

#include <catch2/catch.hpp>
#include <ctime>
#include <map>
#include <set>

using namespace plumbline;
using namespace plumbline::test;
namespace fs = std::filesystem;

TEST_CASE("A trial is made, opened again and given takes, and everything of them comes back")
{
    const TemporaryFolder folder;
    const auto where = folder / "Autumn";
    auto made = TrialFolder::create(where, "Autumn \"24\"");
    REQUIRE(made);
    CHECK(made->path() == where);
    CHECK(opened(where) == made->trial());
    CHECK(opened(where).name == "Autumn \"24\"");
    CHECK_FALSE(opened(where).id.empty());
    CHECK(namesIn(where) == std::set<std::string>{ "trial.json", "trial.lock", "takes" });

    auto second = takeOf(2);
    second.filing.stance = { "Heron 6", "side, tweeters out" };
    second.filing.position = "behind";
    second.filing.doubtful = true;
    second.filing.reason = "Clipped.";
    const auto firstId = made->add(takeOf(1)), secondId = made->add(second);
    REQUIRE(firstId);
    REQUIRE(secondId);
    const auto trial = opened(where);
    CHECK(trial == made->trial());
    REQUIRE(trial.takes.size() == 2);
    CHECK(trial.takes[0].id == *firstId);
    CHECK(trial.takes[0].keep);
    CHECK(trial.takes[1].id == *secondId);
    CHECK_FALSE(trial.takes[1].keep);
    CHECK(trial.takes[1].reason == "Clipped.");
    CHECK(trial.takes[1].position == "behind");
    CHECK(trial.setUp(trial.takes[1].setUp)->stance == "Heron 6, side, tweeters out");
    for (const auto& take : trial.takes)
        CHECK(faultOfTake(where, take) == "");
    CHECK(namesIn(where / "takes") == std::set<std::string>{ *firstId, *secondId });
}

TEST_CASE("A stored take is the capture bit for bit, with all that was known of it")
{
    const TemporaryFolder folder;
    auto made = TrialFolder::create(folder / "t", "t");
    const auto record = takeOf(5);
    const auto id = made->add(record);
    REQUIRE(id);
    const auto of = folder / "t" / "takes" / *id;
    const auto audio = readWav(of / "capture.wav");
    REQUIRE(audio);
    CHECK(audio->sampleRateHz == 24000.0);
    CHECK(audio->channels ==
          std::vector<std::vector<float>>{ record.capture.microphone, record.capture.reference });
    const auto notes = readCaptureNotes(of / "capture.json");
    REQUIRE(notes);
    CHECK(notes->stimulus.sweep == record.capture.stimulus.sweep);
    CHECK(notes->stimulus.totalSamples == record.capture.stimulus.totalSamples);
    CHECK(notes->stimulusStart == -17);
    CHECK(notes->referenceChannel == 2);
    CHECK(notes->calibration == record.analysis.settings.microphone.calibration);
    CHECK(notes->sensitivityDbSpl == 119.5);
    CHECK(notes->temperatureC == 22.5);
    CHECK(readBytes(of / "capture.json").rfind("{\n  \"schema\": \"plumbline/capture/1\"", 0) == 0);
    CHECK(readBytes(of / "analysis.json") == toText(toJson(record.analysis)));
}

TEST_CASE("A take without a loopback is one channel, and says that there was none")
{
    const TemporaryFolder folder;
    auto made = TrialFolder::create(folder / "t", "t");
    auto record = takeOf(5);
    record.capture.reference.clear();
    record.capture.stimulusStart.reset();
    const auto id = made->add(record);
    REQUIRE(id);
    const auto of = folder / "t" / "takes" / *id;
    CHECK(readWav(of / "capture.wav")->channels.size() == 1);
    const auto notes = readCaptureNotes(of / "capture.json");
    CHECK_FALSE(notes->referenceChannel);
    CHECK_FALSE(notes->stimulusStart);
}

TEST_CASE("What a take once wrote never changes when more takes are added or the trial is described anew")
{
    const TemporaryFolder folder;
    REQUIRE(TrialFolder::create(folder / "t", "t"));
    std::map<std::string, std::string> bytes;
    std::map<std::string, fs::file_time_type> times;
    for (std::uint64_t n = 0; n < 6; ++n)
    {
        auto reopened = TrialFolder::open(folder / "t");
        REQUIRE(reopened);
        if (n == 3)
        {
            auto changed = reopened->trial();
            changed.monitors[0].widthCm = 21.5;
            changed.positions[0].name = "chair";
            for (auto& take : changed.takes)
                take.position = "chair";
            REQUIRE(reopened->describe(changed));
            CHECK(opened(folder / "t") == changed);
        }
        REQUIRE(reopened->add(takeOf(n)));
        for (const auto& [file, before] : bytes)
        {
            CHECK((readBytes(file) == before));
            CHECK(fs::last_write_time(file) == times[file]);
        }
        for (const auto& take : opened(folder / "t").takes)
            for (const char* name : { "capture.wav", "capture.json", "analysis.json" })
            {
                const auto file = folder / "t" / "takes" / take.id / name;
                bytes.emplace(file.string(), readBytes(file));
                times.emplace(file.string(), fs::last_write_time(file));
            }
        CHECK(bytes.size() == 3 * (n + 1));
    }
}

TEST_CASE("Every take has an id of its own")
{
    const TemporaryFolder folder;
    auto made = TrialFolder::create(folder / "t", "t");
    std::set<std::string> ids;
    for (int i = 0; i < 10; ++i)
        ids.insert(made->add(takeOf(1, 4)).value());
    CHECK(ids.size() == 10);
    CHECK(opened(folder / "t").takes.size() == 10);
}

TEST_CASE("A trial is made in a new or an empty folder, and nowhere else")
{
    const TemporaryFolder folder;
    fs::create_directory(folder / "empty");
    CHECK(TrialFolder::create(folder / "empty", "x"));
    CHECK(TrialFolder::create(folder / "deep" / "er", "x"));
    fs::create_directory(folder / "full");
    writeBytes(folder / "full" / "mix.wav", "keep");
    writeBytes(folder / "file", "keep");
    for (const auto& taken : { folder / "full", folder / "file", folder / "empty" })
    {
        const auto refused = TrialFolder::create(taken, "x");
        REQUIRE_FALSE(refused);
        CHECK(refused.problem().code == "exists");
        CHECK(refused.problem().where == taken.string());
    }
    CHECK(namesIn(folder / "full") == std::set<std::string>{ "mix.wav" });
    CHECK(TrialFolder::create("/proc/plumbline-trial", "x").problem().code == "cannot-write");
    CHECK(TrialFolder::create(folder / "file" / "t", "x").problem().code == "cannot-write");
}

TEST_CASE("A take that cannot be filed leaves no trace")
{
    const TemporaryFolder folder;
    auto made = TrialFolder::create(folder / "t", "t");
    REQUIRE(made->add(takeOf(1)));
    const auto before = readBytes(folder / "t" / "trial.json");
    auto skips = takeOf(2);
    skips.filing.setUpOrdinal = 0;
    CHECK(made->add(skips).problem().code == "set-up-number");
    auto single = takeOf(3);
    single.filing.kind = Monitor::Kind::single;
    CHECK(made->add(single).problem().code == "other-kind");
    CHECK(readBytes(folder / "t" / "trial.json") == before);
    CHECK(namesIn(folder / "t" / "takes").size() == 1);
}

TEST_CASE("A take that cannot be written leaves no trace, and the next one works")
{
    const TemporaryFolder folder;
    auto made = TrialFolder::create(folder / "t", "t");
    REQUIRE(made->add(takeOf(1)));
    const auto before = readBytes(folder / "t" / "trial.json");
    fs::rename(folder / "t" / "takes", folder / "t" / "away");
    writeBytes(folder / "t" / "takes", "in the way");
    const auto failed = made->add(takeOf(2));
    REQUIRE_FALSE(failed);
    CHECK(failed.problem().code == "cannot-write");
    fs::remove(folder / "t" / "takes");
    fs::rename(folder / "t" / "away", folder / "t" / "takes");
    CHECK(readBytes(folder / "t" / "trial.json") == before);
    CHECK(namesIn(folder / "t" / "takes").size() == 1);

    fs::rename(folder / "t" / "trial.json", folder / "t" / "kept.json");
    fs::create_directory(folder / "t" / "trial.json"); // so that only the last step fails
    CHECK_FALSE(made->add(takeOf(3)));
    CHECK(namesIn(folder / "t" / "takes").size() == 1);
    fs::remove(folder / "t" / "trial.json");
    fs::rename(folder / "t" / "kept.json", folder / "t" / "trial.json");

    REQUIRE(made->add(takeOf(4)));
    CHECK(opened(folder / "t").takes.size() == 2);
}

TEST_CASE("The time of a set-up is ISO 8601 with the offset of the place")
{
    const TemporaryFolder folder;
    auto made = TrialFolder::create(folder / "t", "t");
    REQUIRE(made->add(takeOf(1)));
    const auto when = opened(folder / "t").setUps.at(0).stoodUp;
    INFO(when);
    std::tm fields{};
    const auto rest = when.substr(0, 19);
    REQUIRE(strptime(rest.c_str(), "%Y-%m-%dT%H:%M:%S", &fields) == rest.c_str() + 19);
    const auto zone = when.substr(when.find_first_of("Z+-", 19));
    CHECK((zone == "Z" || (zone.size() == 6 && zone[3] == ':') || zone.size() == 5));
    long offset = 0;
    if (zone != "Z")
        offset = (zone[0] == '-' ? -1 : 1) *
                 (std::stol(zone.substr(1, 2)) * 3600 + std::stol(zone.substr(zone.size() - 2)) * 60);
    CHECK(std::abs(static_cast<double>(timegm(&fields) - offset - std::time(nullptr))) < 60.0);
}

TEST_CASE("Two who have the same trial open lose none of each other's takes")
{
    const TemporaryFolder folder;
    auto first = TrialFolder::create(folder / "t", "t");
    REQUIRE(first);
    auto second = TrialFolder::open(folder / "t");
    REQUIRE(second);
    const auto a = first->add(takeOf(1)), b = second->add(takeOf(2)); // either may be refused, but not lost
    std::set<std::string> wanted, named;
    for (const auto* id : { &a, &b })
        if (*id)
            wanted.insert(**id);
    for (const auto& take : opened(folder / "t").takes)
        named.insert(take.id);
    CHECK_FALSE(wanted.empty());
    CHECK(named == wanted);
}
