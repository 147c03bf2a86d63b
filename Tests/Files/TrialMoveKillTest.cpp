// What could pass here for the wrong reason: a process that was killed when it moved nothing. What its deaths left half
// done is counted: takes whose files were in the other folder, and takes that are in no list. A take lost from the
// list and from the disk together: what was known before a death must be known after it, and its files whole.

#include "Files/TrialFolder.h"

#include "Dsp/Random.h"
#include "Support/ChildProcess.h"
#include "Support/Killing.h"
#include "Support/TemporaryFolder.h"
#include "Support/TrialFolders.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <map>

using namespace plumbline;
using namespace plumbline::test;
using namespace plumbline::acts;
namespace fs = std::filesystem;

namespace
{

constexpr auto laid = "Heron 6, side, tweeters in";

/** A random act of those that write, move or both. */
Outcome actOnce(TrialFolder& trial, Random& random)
{
    auto below = [&](std::size_t count) { return static_cast<std::size_t>(random.bits() % count); };
    const auto& now = trial.trial();
    const auto kind = below(6);
    auto done = [](const auto& result) { return result ? Outcome(Done{}) : Outcome(result.problem()); };
    if (now.takes.empty() || kind == 0)
        return done(trial.add(takeOf(random.bits() % 9, 2000)));
    const auto id = now.takes[below(now.takes.size())].id;
    if (kind == 1)
        return done(trial.act(
            MoveTake{ id, laid, 1 + static_cast<int>(below(3)), isoTimeNow(), true, true, {}, {}, {} }));
    if (kind < 4 || now.discarded.empty())
        return done(trial.act(DiscardTake{ id, "again", {} }));
    return done(trial.act(RestoreTake{ now.discarded[below(now.discarded.size())].entry.id, {} }));
}

/** Ids of all takes, and whether each is among the discarded. */
std::map<std::string, bool> knownTakes(const Trial& trial)
{
    std::map<std::string, bool> known;
    for (const auto& take : trial.takes)
        known[take.id] = false;
    for (const auto& take : trial.discarded)
        known[take.entry.id] = true;
    return known;
}

struct Deaths
{
    int betweenMoveAndSaving = 0, orphans = 0;
};

/** Looks at what a death left, as a reader and then as the next writer. */
std::map<std::string, bool> inspect(const fs::path& folder, Deaths& deaths)
{
    auto trial = TrialFolder::open(folder);
    REQUIRE(trial);
    REQUIRE(trial->mayWrite()); // the dead hold nothing
    for (const auto& note : trial->report().notes)
    {
        INFO(note.sentence());
        CHECK((note.code == "take-moved-back" || note.code == "orphan-take" || note.code == "unfinished"));
        deaths.betweenMoveAndSaving += note.code == "take-moved-back";
    }
    const auto known = knownTakes(trial->trial());
    for (const auto& [id, discarded] : known)
    {
        TakeEntry entry;
        entry.id = id;
        CHECK_FALSE(fs::exists(folder / (discarded ? "takes" : "discarded") / id));
        const auto place = folder / (discarded ? "discarded" : "takes") / id;
        CHECK(readWav(place / "capture.wav"));
        CHECK(readCaptureNotes(place / "capture.json"));
        CHECK(readSummary(place, false));
        CHECK(namesIn(place).size() == 4);
    }
    return known;
}

Deaths killWhileActing(int times)
{
    const TemporaryFolder folder;
    const auto where = folder / "t";
    Random random(2024);
    double oneAct = 0.0;
    {
        auto made = TrialFolder::create(where, "t");
        const double began = secondsNow();
        for (int i = 0; i < 12; ++i)
            REQUIRE(actOnce(*made, random));
        oneAct = (secondsNow() - began) / 12.0;
    }
    Deaths deaths;
    auto before = inspect(where, deaths);
    for (int i = 0; i < times; ++i)
    {
        const long microseconds = 1 + static_cast<long>(random.uniform() * 4e6 * oneAct);
        const auto seed = random.bits();
        const auto end = runInChild(
            [&]
            {
                auto trial = TrialFolder::open(where);
                Random own(seed);
                dieIn(microseconds);
                while (actOnce(*trial, own))
                {
                }
                return 1;
            });
        INFO("death " << i << " after " << microseconds << " us");
        REQUIRE(end.signal == SIGKILL);
        const auto after = inspect(where, deaths);
        CHECK(std::all_of(before.begin(), before.end(),
                          [&](const auto& take) { return after.contains(take.first); }));
        before = after;
    }
    for (const auto& name : namesIn(where / "takes"))
        deaths.orphans += !before.contains(name);
    return deaths;
}

}

TEST_CASE("A process killed while it files, moves, discards and restores takes loses none of them")
{
    const auto deaths = killWhileActing(40);
    CHECK(deaths.betweenMoveAndSaving > 2); // otherwise nothing was tried
    CHECK(deaths.orphans > 0);
}

TEST_CASE("A process killed five hundred times while it acts on a trial loses no take", "[.long]")
{
    const auto deaths = killWhileActing(500);
    CHECK(deaths.betweenMoveAndSaving > 30);
    CHECK(deaths.orphans > 10);
}
