// What could pass here for the wrong reason: a trial read back from memory. Every look at one opens the
// folder anew. A process that was killed when it had nothing in hand: the child does nothing but add takes,
// and what its death left half done is counted. A damaged trial.json refused for another damage: each
// differs from a good one in one thing.

#include "Files/TrialFolder.h"

#include "Files/AnalysisFile.h"
#include "Files/StimulusFile.h"
#include "Files/WavFile.h"
#include "Support/Damage.h"
#include "Support/TemporaryFolder.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cstring>
#include <ctime>

using namespace plumbline;
using namespace plumbline::test;
using Catch::Matchers::Contains;
namespace fs = std::filesystem;

namespace
{

std::vector<float> noise(std::size_t count, std::uint64_t seed)
{
    Random random(seed);
    std::vector<float> samples(count);
    for (auto& sample : samples)
        sample = static_cast<float>(0.1 * random.normal());
    return samples;
}

SideAnalysis shortSide()
{
    SideAnalysis side;
    side.travelTimeSeconds = 0.0031;
    side.polarity = 1;
    side.response.frequencyHz = { 500.0, 1000.0, 2000.0 };
    side.response.levelDb = { -1.0, 0.0, -2.5 };
    side.response.phaseDeg = { 10.0, 0.0, -20.0 };
    side.response.known = { true, false, true };
    return side;
}

/** A take made by hand: `count` samples of microphone and loopback. */
TakeRecord takeOf(std::uint64_t seed, std::size_t count = 400)
{
    static const auto stimulus = []
    {
        StimulusSpec spec;
        spec.sampleRateHz = 24000.0;
        spec.seconds = 1.0;
        spec.band = { 20.0, 10000.0 };
        return designStimulus(spec).value();
    }();
    TakeRecord record;
    record.capture.stimulus = stimulus;
    record.capture.microphone = noise(count, seed);
    record.capture.reference = noise(count, seed + 1000);
    record.capture.stimulusStart = -17;
    record.analysis.sampleRateHz = stimulus.spec.sampleRateHz;
    record.analysis.settings.microphone = {
        Calibration::fromPoints("Serial 17", { { 20.0, -1.5, 0.0 }, { 20000.0, 2.5, 0.0 } }, false).value(),
        119.5, 22.5
    };
    record.analysis.left = shortSide();
    record.analysis.right = shortSide();
    record.filing.stance = { "Heron 6", "upright" };
    return record;
}

Trial opened(const fs::path& folder)
{
    const auto trial = TrialFolder::open(folder);
    if (!trial)
        FAIL(trial.problem().sentence());
    return trial->trial();
}

/** What is missing of a take's files; empty if they are whole and say the same. */
std::string faultOfTake(const fs::path& folder, const TakeEntry& take)
{
    const auto of = folder / "takes" / take.id;
    const auto audio = readWav(of / "capture.wav");
    if (!audio)
        return audio.problem().sentence();
    if (const auto notes = readCaptureNotes(of / "capture.json"); !notes)
        return notes.problem().sentence();
    if (const auto capture = readJsonFile(of / "capture.json", "capture", 1);
        !capture || (*capture)["id"] != take.id)
        return "another take's capture.json";
    if (const auto analysis = readJsonFile(of / "analysis.json", "analysis", 1); !analysis)
        return analysis.problem().sentence();
    return namesIn(of).size() == 3 ? "" : "other files beside";
}

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
  "setUps": [ { "id": 1, "stance": "Heron 6, upright", "stoodUp": "2024-05-01T10:00:00+02:00" },
              { "id": 2, "stance": "Heron 6, upright", "stoodUp": "2024-05-02T10:00:00+02:00" },
              { "id": 7, "stance": "Tarn 5, side, tweeters out", "stoodUp": "" } ],
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

}

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
    CHECK(namesIn(where) == std::set<std::string>{ "trial.json", "takes" });

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
    auto made = TrialFolder::create(folder / "t", "t");
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
    skips.filing.setUpOrdinal = 3;
    CHECK(made->add(skips).problem().code == "set-up-skipped");
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
    CHECK_THAT(refusal([](Json& j) { j["schema"] = "plumbline/trial/2"; }),
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
    writeBytes(folder / "trial.json", toText(json));
    auto trial = TrialFolder::open(folder.path());
    REQUIRE(trial);
    REQUIRE(trial->add(takeOf(1)));
    const auto after = Json::parse(readBytes(folder / "trial.json"));
    CHECK(after["takes"].size() == 5);
    CHECK(after.value("choice", Json()) == json["choice"]);
    CHECK(after["monitors"][0].value("colour", "") == "ash");
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

namespace
{
/** Kills this process, as by kill -9, after so many microseconds. */
void dieIn(long microseconds)
{
    sigevent event{};
    event.sigev_notify = SIGEV_SIGNAL;
    event.sigev_signo = SIGKILL;
    timer_t timer{};
    itimerspec when{};
    when.it_value.tv_sec = microseconds / 1000000;
    when.it_value.tv_nsec = microseconds % 1000000 * 1000;
    if (timer_create(CLOCK_MONOTONIC, &event, &timer) != 0 || timer_settime(timer, 0, &when, nullptr) != 0)
        _exit(2);
}

double secondsNow()
{
    timespec now{};
    clock_gettime(CLOCK_MONOTONIC, &now);
    return static_cast<double>(now.tv_sec) + 1e-9 * static_cast<double>(now.tv_nsec);
}

struct KillCount
{
    std::size_t midTake = 0, namedAtEnd = 0;
};

KillCount killWhileAdding(const fs::path& folder, int times)
{
    auto made = TrialFolder::create(folder, "t");
    const double began = secondsNow();
    for (std::uint64_t n = 0; n < 4; ++n)
        REQUIRE(made->add(takeOf(n, 20000)));
    const double oneTake = (secondsNow() - began) / 4.0;
    Random random(99);
    auto before = opened(folder).takes;
    for (int i = 0; i < times; ++i)
    {
        const long microseconds = 1 + static_cast<long>(random.uniform() * 3e6 * oneTake);
        const auto end = runInChild(
            [&]
            {
                auto trial = TrialFolder::open(folder);
                dieIn(microseconds);
                for (std::uint64_t n = 0;; ++n)
                    if (!trial->add(takeOf(n, 20000)))
                        return 1;
            });
        INFO("kill " << i << " after " << microseconds << " us");
        REQUIRE(end.signal == SIGKILL);
        const auto after = opened(folder).takes;
        REQUIRE(after.size() >= before.size());
        CHECK(std::equal(before.begin(), before.end(), after.begin()));
        for (const auto& take : after)
            CHECK(faultOfTake(folder, take) == "");
        before = after;
    }
    return { namesIn(folder / "takes").size() - before.size(), before.size() };
}
}

TEST_CASE("A process killed while it adds takes leaves a trial that names only takes that are whole")
{
    const TemporaryFolder folder;
    const auto count = killWhileAdding(folder / "t", 30);
    CHECK(count.midTake > 5); // otherwise nothing was tried
    CHECK(count.namedAtEnd > 4);
    auto trial = TrialFolder::open(folder / "t");
    REQUIRE(trial);
    CHECK(trial->add(takeOf(1)));
}

TEST_CASE("A process killed three hundred times while it adds takes leaves a whole trial", "[.long]")
{
    const TemporaryFolder folder;
    CHECK(killWhileAdding(folder / "t", 300).midTake > 50);
}

namespace
{
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
