// What could pass here for the wrong reason: takes that are there in the view and not on the disk. What is said to be
// filed is read from the folder anew. Folders that cannot be written have a file in their way, since some who run
// the tests may write anywhere.

#include "Plugin/TrialKeeper.h"

#include "Support/TrialFolders.h"

#include <catch2/catch.hpp>
#include <optional>

using namespace plumbline;
using namespace plumbline::test;
namespace fs = std::filesystem;

namespace
{
constexpr auto heron = "Heron 6, upright";
constexpr auto laid = "Heron 6, side, tweeters in";

Monitor named(const std::string& name)
{
    Monitor monitor;
    monitor.name = name;
    return monitor;
}

/** A keeper that was told of one pair, standing upright. */
TrialKeeper told(const std::string& name = "Heron 6")
{
    TrialKeeper keeper;
    REQUIRE(keeper.describe("", named(name)));
    keeper.standHere(name + ", upright");
    return keeper;
}

Outcome file(TrialKeeper& keeper, const fs::path& trials, std::uint64_t seed = 1)
{
    auto record = takeOf(seed);
    return keeper.file(keeper.here(), record.capture, record.analysis, trials);
}

std::string codeOf(const Outcome& outcome)
{
    return outcome ? "" : outcome.problem().code;
}

/** Numbers of the set-ups of a stance's takes, in their order. */
std::vector<int> setUpsOf(const Trial& trial, const std::string& stance)
{
    std::vector<int> numbers;
    for (const auto& take : trial.takes)
        if (const auto* setUp = trial.setUp(take.setUp); setUp && setUp->stance == stance)
            numbers.push_back(setUp->number);
    return numbers;
}

/** Puts a file in the place of the folder, and back. */
struct InTheWay
{
    explicit InTheWay(fs::path place) : folder(std::move(place))
    {
        fs::rename(folder, folder.string() + " away");
        writeBytes(folder, "in the way");
    }

    void clear()
    {
        fs::remove(folder);
        fs::rename(folder.string() + " away", folder);
    }

    fs::path folder;
};

/** Every take that a folder names is whole, and there are so many. */
void checkWhole(const fs::path& folder, std::size_t count)
{
    const auto trial = opened(folder);
    CHECK(trial.takes.size() == count);
    for (const auto& take : trial.takes)
        CHECK(faultOfTake(folder, take) == "");
}
}

TEST_CASE("A trial without a name gets its folder with the first take, and goes on in it")
{
    const TemporaryFolder folder;
    auto keeper = told();
    auto wide = named("Heron 6");
    wide.widthCm = 21.0;
    REQUIRE(keeper.describe("Heron 6", wide));
    CHECK(keeper.view().place == TrialView::Place::unnamed);
    CHECK(keeper.identity() == TrialIdentity{});
    CHECK(namesIn(folder.path()).empty());
    REQUIRE(file(keeper, folder.path()));
    REQUIRE(file(keeper, folder.path()));
    const auto view = keeper.view();
    CHECK(view.place == TrialView::Place::folder);
    CHECK(fs::path(view.folder).parent_path() == folder.path());
    CHECK(fs::path(view.folder).filename() == "Trial " + isoTimeNow().substr(0, 10));
    CHECK(view.hereNow == heron);
    checkWhole(view.folder, 2);
    CHECK(opened(view.folder).monitors.at(0).widthCm == 21.0);
    CHECK(setUpsOf(opened(view.folder), heron) == std::vector<int>{ 1, 1 });
    CHECK(keeper.identity() == TrialIdentity{ view.trial->id, view.folder });
    CHECK(keeper.takesHere() == 2);
}

TEST_CASE("A trial named before its first take is kept under that name")
{
    const TemporaryFolder folder;
    auto keeper = told();
    REQUIRE(keeper.nameTrial("Spring"));
    REQUIRE(file(keeper, folder.path()));
    CHECK(namesIn(folder.path()) == std::set<std::string>{ "Spring" });
    CHECK(opened(folder / "Spring").name == "Spring");
}

TEST_CASE("Whatever a trial is called, its folder lies in its parent and the trial keeps the name as it is")
{
    const std::pair<const char*, const char*> rows[] = {
        { "Spring", "Spring" },
        { "A/B", "A-B" },
        { "../up", "..-up" },
        { "..", "Trial" },
        { "a\\b:c*d?e\"f<g>h|i", "a-b-c-d-e-f-g-h-i" },
        { "tab\there", "tab-here" },
        { "dots...", "dots" },
        { "Müll & Grün", "Müll & Grün" },
    };
    for (const auto& [name, wanted] : rows)
    {
        INFO(name);
        const TemporaryFolder folder;
        fs::create_directory(folder / "trials");
        TrialKeeper keeper;
        REQUIRE(keeper.create(name, folder / "trials"));
        CHECK(namesIn(folder / "trials") == std::set<std::string>{ wanted });
        CHECK(namesIn(folder.path()).size() == 1);
        CHECK(opened(folder / "trials" / wanted).name == name);
    }
}

TEST_CASE("A trial of blanks alone is refused, and nothing is made")
{
    const TemporaryFolder folder;
    TrialKeeper keeper;
    CHECK(codeOf(keeper.create("", folder.path())) == "no-name");
    CHECK(codeOf(keeper.create(" \t", folder.path())) == "no-name");
    CHECK(namesIn(folder.path()).empty());
}

TEST_CASE("A name that is there already gets a number, and what was there is not touched")
{
    const TemporaryFolder folder;
    fs::create_directory(folder / "Spring");
    writeBytes(folder / "Spring 2", "a file");
    TrialKeeper keeper;
    REQUIRE(keeper.create("Spring", folder.path()));
    CHECK(fs::path(keeper.view().folder).filename() == "Spring 3");
    REQUIRE(keeper.create("Spring", folder.path()));
    CHECK(fs::path(keeper.view().folder).filename() == "Spring 4");
    CHECK(fs::is_empty(folder / "Spring"));
    CHECK(readBytes(folder / "Spring 2") == "a file");
}

TEST_CASE("From a trial that has a folder a new one begins empty")
{
    const TemporaryFolder folder;
    auto keeper = told();
    REQUIRE(keeper.create("First", folder.path()));
    CHECK(keeper.trial().monitors.size() == 1); // what was told goes along
    CHECK(keeper.hereNow() == heron);
    REQUIRE(file(keeper, folder.path()));
    REQUIRE(keeper.create("Second", folder.path()));
    CHECK(keeper.trial().monitors.empty());
    CHECK(keeper.trial().takes.empty());
    CHECK(keeper.hereNow().empty());
    CHECK(keeper.view().curves.empty());
    checkWhole(folder / "First", 1);
}

TEST_CASE("A trials folder that cannot be made keeps the takes in memory, all of them, until they are saved")
{
    const TemporaryFolder folder;
    writeBytes(folder / "file", "in the way");
    auto keeper = told();
    CHECK(codeOf(file(keeper, folder / "file", 1)) == "kept-in-memory");
    CHECK(codeOf(file(keeper, folder / "file", 2)) == "kept-in-memory");
    keeper.standAgain();
    CHECK(codeOf(file(keeper, folder / "file", 3)) == "kept-in-memory");
    auto view = keeper.view();
    CHECK(view.place == TrialView::Place::memory);
    CHECK(view.takesInMemory == 3);
    CHECK(setUpsOf(*view.trial, heron) == std::vector<int>{ 1, 1, 2 });
    REQUIRE(view.curves[heron].newest);
    CHECK(view.curves[heron].newest->takeId.empty());
    CHECK(view.curves[heron].newest->setUp == 2);
    CHECK(view.curves[heron].before->take == 2);
    CHECK(codeOf(keeper.open(folder / "nowhere")) == "takes-in-memory");
    SECTION("saved elsewhere")
    {
        REQUIRE(keeper.saveIn(folder / "elsewhere"));
    }
    SECTION("the next take can be written again")
    {
        fs::remove(folder / "file");
        REQUIRE(file(keeper, folder / "file", 4));
    }
    view = keeper.view();
    CHECK(view.place == TrialView::Place::folder);
    CHECK(view.takesInMemory == 0);
    CHECK(view.hereNow == heron);
    CHECK(view.hereSetUp == 2);
    const auto takes = opened(view.folder).takes.size();
    CHECK(takes >= 3);
    checkWhole(view.folder, takes);
    const auto second = fs::path(view.folder) / "takes" / opened(view.folder).takes[1].id / "capture.wav";
    CHECK((readWav(second)->channels.at(0) == takeOf(2).capture.microphone));
    CHECK(setUpsOf(opened(view.folder), heron)[2] == 2);
}

TEST_CASE("A trial folder that vanishes keeps the takes in memory, and takes them when it is there again")
{
    const TemporaryFolder folder;
    auto keeper = told();
    REQUIRE(keeper.create("Spring", folder.path()));
    REQUIRE(file(keeper, folder.path(), 1));
    const auto identity = keeper.identity();
    InTheWay blocked(folder / "Spring");
    CHECK(codeOf(file(keeper, folder.path(), 2)) == "kept-in-memory");
    CHECK(codeOf(file(keeper, folder.path(), 3)) == "kept-in-memory");
    CHECK(keeper.view().takesInMemory == 2);
    CHECK(keeper.trial().takes.size() == 3);
    CHECK(keeper.identity() == identity); // the session still names it
    SECTION("there again")
    {
        blocked.clear();
        REQUIRE(file(keeper, folder.path(), 4));
        checkWhole(folder / "Spring", 4);
        const auto view = keeper.view();
        CHECK(view.place == TrialView::Place::folder);
        CHECK(view.takesInMemory == 0);
        CHECK(view.curves.at(heron).newest->take == 4);
        CHECK(view.curves.at(heron).before->take == 3);
    }
    SECTION("there again, and it was the last take")
    {
        blocked.clear();
        REQUIRE(keeper.saveIn(folder / "elsewhere"));
        const auto saved = keeper.view().folder;
        checkWhole(saved, 2);
        checkWhole(folder / "Spring", 1);
    }
    SECTION("removed for good")
    {
        fs::remove(folder / "Spring");
        CHECK(codeOf(file(keeper, folder.path(), 4)) == "kept-in-memory");
        REQUIRE(keeper.saveIn(folder / "elsewhere"));
        checkWhole(keeper.view().folder, 3);
    }
}

TEST_CASE("A take in memory is shown once after it was written")
{
    const TemporaryFolder folder;
    auto keeper = told();
    REQUIRE(keeper.create("Spring", folder.path()));
    InTheWay blocked(folder / "Spring");
    CHECK(codeOf(file(keeper, folder.path(), 1)) == "kept-in-memory");
    blocked.clear();
    REQUIRE(file(keeper, folder.path(), 2));
    const auto curves = keeper.view().curves.at(heron);
    CHECK(curves.newest->take == 2);
    CHECK(curves.before->take == 1);
    CHECK_FALSE(curves.before->takeId.empty());
}

TEST_CASE("Another trial in the place of the one that vanished gets none of its takes")
{
    const TemporaryFolder folder;
    auto keeper = told();
    REQUIRE(keeper.create("Spring", folder.path()));
    InTheWay blocked(folder / "Spring");
    CHECK(codeOf(file(keeper, folder.path(), 1)) == "kept-in-memory");
    fs::remove(folder / "Spring");
    REQUIRE(TrialFolder::create(folder / "Spring", "Another"));
    CHECK(codeOf(file(keeper, folder.path(), 2)) == "kept-in-memory");
    CHECK(opened(folder / "Spring").takes.empty());
    CHECK(keeper.view().takesInMemory == 2);
}

TEST_CASE("A pair renamed while takes are in memory is written under its new name")
{
    const TemporaryFolder folder;
    auto keeper = told();
    REQUIRE(keeper.create("Spring", folder.path()));
    REQUIRE(file(keeper, folder.path(), 1));
    InTheWay blocked(folder / "Spring");
    CHECK(codeOf(file(keeper, folder.path(), 2)) == "kept-in-memory");
    auto renamed = named("Tarn 5");
    renamed.widthCm = 18.0;
    REQUIRE(keeper.describe("Heron 6", renamed));
    const bool back = GENERATE(true, false);
    if (back)
    {
        blocked.clear();
        REQUIRE(file(keeper, folder.path(), 3));
    }
    else
        REQUIRE(keeper.saveIn(folder / "elsewhere"));
    const auto trial = opened(keeper.view().folder);
    REQUIRE(trial.monitors.size() == 1);
    CHECK(trial.monitors[0] == renamed);
    CHECK(setUpsOf(trial, "Tarn 5, upright").size() == (back ? 3 : 1));
}

TEST_CASE(
    "A session's trial is found by its identity, with its newest curves; else it is missing and said so")
{
    const TemporaryFolder folder;
    const auto identity = [&]
    {
        auto first = told();
        REQUIRE(first.create("Spring", folder.path()));
        REQUIRE(file(first, folder.path(), 1));
        REQUIRE(file(first, folder.path(), 2));
        return first.identity();
    }();
    TrialKeeper keeper;
    SECTION("there")
    {
        REQUIRE(keeper.find(identity));
        const auto view = keeper.view();
        CHECK(view.place == TrialView::Place::folder);
        REQUIRE(view.curves.at(heron).newest);
        CHECK(view.curves.at(heron).newest->take == 2);
        CHECK(view.curves.at(heron).before->take == 1);
        CHECK(view.curves.at(heron).newest->left.levelDb[2] == -2.5);
    }
    SECTION("gone")
    {
        fs::rename(folder / "Spring", folder / "Elsewhere");
        const auto outcome = keeper.find(identity);
        CHECK(codeOf(outcome) == "trial-missing");
        CHECK(keeper.view().place == TrialView::Place::missing);
        CHECK(keeper.identity() == identity);
        REQUIRE(keeper.open(folder / "Elsewhere"));
        CHECK(keeper.identity() == TrialIdentity{ identity.id, (folder / "Elsewhere").string() });
        CHECK(keeper.view().place == TrialView::Place::folder);
    }
    SECTION("another in its place")
    {
        fs::rename(folder / "Spring", folder / "Elsewhere");
        REQUIRE(TrialFolder::create(folder / "Spring", "Another"));
        const auto outcome = keeper.find(identity);
        CHECK(codeOf(outcome) == "trial-missing");
        CHECK_THAT(outcome.problem().what, Catch::Contains("Another trial"));
        CHECK(keeper.identity() == identity);
    }
}

TEST_CASE("While a trial is missing takes go into a new one, with what was told of it, and go on going there")
{
    const TemporaryFolder folder;
    TrialKeeper keeper;
    CHECK(codeOf(keeper.find({ "abc", (folder / "gone").string() })) == "trial-missing");
    auto wide = named("Heron 6");
    wide.widthCm = 21.0;
    REQUIRE(keeper.describe("", wide));
    keeper.standHere(heron);
    REQUIRE(file(keeper, folder / "trials", 1));
    CHECK(keeper.hereNow() == heron);
    REQUIRE(file(keeper, folder / "trials", 2));
    const auto where = keeper.view().folder;
    CHECK(fs::path(where).parent_path() == folder / "trials");
    checkWhole(where, 2);
    CHECK(opened(where).monitors.at(0).widthCm == 21.0);
    CHECK_FALSE(fs::exists(folder / "gone"));
}

TEST_CASE("Takes in memory never go into a trial that a session's state brings")
{
    const TemporaryFolder folder;
    auto other = told();
    REQUIRE(other.create("Other", folder.path()));
    auto keeper = told();
    REQUIRE(keeper.create("Spring", folder.path()));
    InTheWay blocked(folder / "Spring");
    CHECK(codeOf(file(keeper, folder.path(), 1)) == "kept-in-memory");
    static_cast<void>(keeper.find(other.identity()));
    keeper.standHere(heron);
    static_cast<void>(file(keeper, folder.path(), 2));
    CHECK(opened(folder / "Other").takes.size() <= 1);
    for (const auto& take : opened(folder / "Other").takes)
        CHECK((readWav(folder / "Other" / "takes" / take.id / "capture.wav")->channels.at(0) !=
               takeOf(1).capture.microphone));
}

TEST_CASE("A pair renamed keeps its takes and its curves, on the disk too")
{
    const TemporaryFolder folder;
    auto keeper = told();
    REQUIRE(keeper.describe("", named("Osier 8")));
    REQUIRE(file(keeper, folder.path(), 1));
    keeper.standHere("Osier 8, upright");
    REQUIRE(file(keeper, folder.path(), 2));
    keeper.standHere(heron);
    REQUIRE(keeper.describe("Heron 6", named("Tarn 5")));
    const auto view = keeper.view();
    CHECK(view.hereNow == "Tarn 5, upright");
    CHECK(view.curves.count(heron) == 0);
    REQUIRE(view.curves.count("Tarn 5, upright") == 1);
    CHECK(view.curves.count("Osier 8, upright") == 1);
    CHECK(setUpsOf(opened(view.folder), "Tarn 5, upright") == std::vector<int>{ 1 });
    REQUIRE(file(keeper, folder.path(), 3));
    CHECK(setUpsOf(opened(view.folder), "Tarn 5, upright").size() == 2);
    checkWhole(view.folder, 3);
}

TEST_CASE(
    "A trial that another instance writes in is read only, and what is taken meanwhile is kept in memory")
{
    const TemporaryFolder folder;
    std::optional<TrialKeeper> one(told());
    REQUIRE(one->create("Spring", folder.path()));
    TrialKeeper two;
    REQUIRE(two.open(folder / "Spring"));
    CHECK(two.view().place == TrialView::Place::readOnly);
    REQUIRE(two.openNotes().size() == 1);
    CHECK(two.openNotes()[0].code == "trial-in-use");
    CHECK(one->openNotes().empty());
    REQUIRE(file(*one, folder.path(), 1));
    two.standHere(laid);
    CHECK(codeOf(two.describe("", named("Tarn 5"))) == "trial-in-use");
    CHECK(codeOf(two.nameTrial("Summer")) == "trial-in-use");
    CHECK(codeOf(file(two, folder.path(), 2)) == "kept-in-memory");
    CHECK(two.view().takesInMemory == 1);
    checkWhole(folder / "Spring", 1);
    SECTION("until the other is gone")
    {
        one.reset();
        REQUIRE(file(two, folder.path(), 3));
        CHECK(two.view().place == TrialView::Place::folder);
        CHECK(two.view().takesInMemory == 0);
        checkWhole(folder / "Spring", 3);
    }
    SECTION("until they are saved elsewhere")
    {
        REQUIRE(two.saveIn(folder / "elsewhere"));
        checkWhole(two.view().folder, 1);
        checkWhole(folder / "Spring", 1);
    }
}

TEST_CASE("The trial that is open does not stand in its own way when it is opened or found again")
{
    const TemporaryFolder folder;
    auto keeper = told();
    REQUIRE(keeper.create("Spring", folder.path()));
    REQUIRE(file(keeper, folder.path(), 1));
    REQUIRE(keeper.find(keeper.identity()));
    CHECK(keeper.view().place == TrialView::Place::folder);
    REQUIRE(keeper.open(folder / "Spring"));
    CHECK(keeper.view().place == TrialView::Place::folder);
    keeper.standHere(heron);
    REQUIRE(file(keeper, folder.path(), 2));
}

TEST_CASE("A trial that was read only can be written as soon as the other instance is gone")
{
    const TemporaryFolder folder;
    std::optional<TrialKeeper> one(told());
    REQUIRE(one->create("Spring", folder.path()));
    TrialKeeper two;
    REQUIRE(two.open(folder / "Spring"));
    REQUIRE(file(*one, folder.path(), 1));
    one.reset();
    two.standHere(laid);
    REQUIRE(file(two, folder.path(), 2));
    CHECK(two.view().place == TrialView::Place::folder);
    checkWhole(folder / "Spring", 2);
}

TEST_CASE("Set-ups count up when something was moved, and only then")
{
    const TemporaryFolder folder;
    std::optional<TrialKeeper> held(told());
    auto& keeper = *held;
    REQUIRE(keeper.create("Spring", folder.path()));
    const auto taken = [&] { return file(keeper, folder.path()).ok(); };
    CHECK(keeper.hereSetUp() == 1);
    REQUIRE(taken());
    REQUIRE(taken());
    keeper.standHere(heron); // it stands there already
    REQUIRE(taken());
    CHECK(setUpsOf(keeper.trial(), heron) == std::vector<int>{ 1, 1, 1 });
    keeper.standAgain();
    CHECK(keeper.hereSetUp() == 2);
    CHECK(keeper.takesHere() == 0);
    REQUIRE(taken());
    SECTION("there and back, with a take between: the pair was turned twice")
    {
        keeper.standHere(laid);
        CHECK(keeper.hereSetUp() == 1);
        REQUIRE(taken());
        keeper.standHere(heron);
        CHECK(keeper.hereSetUp() == 3);
        REQUIRE(taken());
        CHECK(setUpsOf(keeper.trial(), heron) == std::vector<int>{ 1, 1, 1, 2, 3 });
        CHECK(setUpsOf(keeper.trial(), laid) == std::vector<int>{ 1 });
    }
    SECTION("there and back without a take: a slip of the hand")
    {
        keeper.standHere(laid);
        keeper.standHere(heron);
        CHECK(keeper.hereSetUp() == 2);
    }
    SECTION("stood up again, then there and back without a take: it is still stood up again")
    {
        keeper.standAgain();
        keeper.standHere(laid);
        keeper.standHere(heron);
        CHECK(keeper.hereSetUp() == 3);
    }
    SECTION("opened again: nothing was moved")
    {
        TrialKeeper later;
        REQUIRE(later.open(folder / "Spring"));
        later.standHere(heron);
        CHECK(later.hereSetUp() == 2);
    }
    SECTION("as a session kept it")
    {
        const auto identity = keeper.identity();
        held.reset();
        TrialKeeper later;
        REQUIRE(later.find(identity));
        later.standHere(heron, 7);
        CHECK(later.hereSetUp() == 7);
        const auto record = takeOf(9);
        REQUIRE(later.file(later.here(), record.capture, record.analysis, folder.path()));
        CHECK(setUpsOf(opened(folder / "Spring"), heron) == std::vector<int>{ 1, 1, 1, 2, 7 });
    }
}

TEST_CASE("A doubtful take is filed as one that does not count, with the doubt's words")
{
    const TemporaryFolder folder;
    auto keeper = told();
    auto record = takeOf(1);
    record.analysis.faults = { { "low-level", Fault::Severity::note, "A note." },
                               { "clipped", Fault::Severity::doubt, "It clipped." } };
    REQUIRE(keeper.file(keeper.here(), record.capture, record.analysis, folder.path()));
    REQUIRE(file(keeper, folder.path(), 2));
    const auto trial = opened(keeper.view().folder);
    CHECK_FALSE(trial.takes[0].keep);
    CHECK(trial.takes[0].reason == "It clipped.");
    CHECK(trial.takes[1].keep);
    CHECK(keeper.view().curves.at(heron).before->doubtful());
}

TEST_CASE("A folder that holds no trial, or a damaged one, is refused and what is open stays")
{
    const TemporaryFolder folder;
    auto keeper = told();
    REQUIRE(keeper.create("Spring", folder.path()));
    const auto before = keeper.identity();
    CHECK(codeOf(keeper.open(folder.path())) == "missing");
    fs::create_directory(folder / "bad");
    writeBytes(folder / "bad/trial.json", "{");
    CHECK(codeOf(keeper.open(folder / "bad")) == "not-json");
    CHECK(keeper.identity() == before);
    CHECK(keeper.hereNow() == heron);
    CHECK(keeper.view().place == TrialView::Place::folder);
}

TEST_CASE("A take whose analysis was deleted or damaged is not drawn, and the others are")
{
    const TemporaryFolder folder;
    auto keeper = told();
    REQUIRE(keeper.create("Spring", folder.path()));
    REQUIRE(file(keeper, folder.path(), 1));
    REQUIRE(file(keeper, folder.path(), 2));
    const auto newest = opened(folder / "Spring").takes[1].id;
    writeBytes(folder / "Spring" / "takes" / newest / "analysis.json", "{");
    TrialKeeper later;
    REQUIRE(later.open(folder / "Spring"));
    REQUIRE(later.view().curves.count(heron) == 1);
    CHECK(later.view().curves.at(heron).newest->take == 1);
}
