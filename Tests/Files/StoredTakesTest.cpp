// What could pass here for the wrong reason: figures that were in memory all along. Takes are stored by one folder
// object and read back by another; each has levels of its own, so that none can stand for another.

#include "Files/StoredTakes.h"

#include "Files/AtomicFile.h"
#include "Support/TrialFolders.h"

#include <algorithm>
#include <cmath>

using namespace plumbline;
using namespace plumbline::test;
using Catch::Contains;

namespace
{

/** A trial of two stances: a kept take of each, one more that is not kept, and one at a place beside the seat. */
struct Stored
{
    TemporaryFolder temporary;
    std::filesystem::path place = temporary.path() / "trial";
    std::vector<std::string> ids;

    Stored()
    {
        auto folder = TrialFolder::create(place, "Mill Lane Room");
        if (!folder)
            FAIL(folder.problem().sentence());
        add(*folder, "Heron 6", 1, "seat", true, 1.0);
        add(*folder, "Tarn 5", 1, "seat", true, 2.0);
        add(*folder, "Heron 6", 3, "left of the seat", true, 3.0);
        add(*folder, "Tarn 5", 1, "seat", false, 4.0);
    }

    void add(TrialFolder& folder, const std::string& monitor, int setUp, const std::string& position,
             bool keep, double levelDb)
    {
        auto record = takeOf(ids.size() + 1);
        record.filing.stance.monitor = monitor;
        record.filing.setUpOrdinal = setUp;
        record.filing.position = position;
        record.filing.doubtful = !keep;
        record.analysis.left.response.levelDb[0] = levelDb;
        const auto id = folder.add(std::move(record));
        if (!id)
            FAIL(id.problem().sentence());
        ids.push_back(*id);
    }

    StoredTakes read() const
    {
        const auto folder = TrialFolder::open(place);
        if (!folder)
            FAIL(folder.problem().sentence());
        return storedTakes(*folder);
    }
};

const auto at500 = *curveGrid::indexOf(500.0), at1000 = *curveGrid::indexOf(1000.0);

}

TEST_CASE("Kept takes come back under their stance, with set-up, position, levels and conditions")
{
    const Stored stored;
    const auto found = stored.read();
    REQUIRE(found.stances.size() == 2);
    const auto& heron = found.stances[0];
    CHECK(heron.name() == "Heron 6, upright");
    CHECK(heron.monitor.name == "Heron 6");
    REQUIRE(heron.takes.size() == 2);
    CHECK(heron.takes[1].id == stored.ids[2]);
    CHECK(heron.takes[1].setUp == 3);
    CHECK(heron.takes[1].position == "left of the seat");
    for (const auto& take : heron.takes)
    {
        REQUIRE(take.sides.size() == 2);
        CHECK(take.sides[0].travelSeconds == 0.0031);
        CHECK(take.sides[0].polarity == 1);
        CHECK(take.conditions == TakeConditions{ 24000.0, 22.5, "Serial 17", 12 });
    }
    CHECK(heron.takes[0].sides[0].levelDb[at500] == Approx(1.0));
    CHECK(heron.takes[1].sides[0].levelDb[at500] == Approx(3.0));
    CHECK(heron.takes[1].sides[1].levelDb[at500] == Approx(-1.0));
}

TEST_CASE("What a take does not know stays unknown, and so does what lies between and beside its frequencies")
{
    const auto found = Stored().read();
    const auto& level = found.stances[0].takes[0].sides[0].levelDb;
    REQUIRE(level.size() == curveGrid::points);
    CHECK(std::isnan(level[at1000]));
    CHECK(std::count_if(level.begin(), level.end(), [](double v) { return std::isfinite(v); }) == 2);
}

TEST_CASE("A take that is not kept is left out, and said to be")
{
    const auto found = Stored().read();
    CHECK(found.stances[1].takes.size() == 1);
    REQUIRE(found.faults.size() == 1);
    CHECK(found.faults[0].code == "takes-not-kept");
    CHECK(found.faults[0].severity == Fault::Severity::note);
}

TEST_CASE("A missing and a damaged take are left out and named as doubts, the others come back")
{
    const Stored stored;
    std::filesystem::remove(stored.place / "takes" / stored.ids[1] / "summary.json");
    std::filesystem::remove(stored.place / "takes" / stored.ids[1] / "analysis.json");
    REQUIRE(writeFileWhole(stored.place / "takes" / stored.ids[0] / "analysis.json", "{ \"schema\": "));
    const auto found = stored.read();
    REQUIRE(found.stances.size() == 1);
    REQUIRE(found.stances[0].takes.size() == 1);
    CHECK(found.stances[0].takes[0].id == stored.ids[2]);
    REQUIRE(found.faults.size() == 4);
    CHECK(found.faults[0].code == "analysis-damaged");
    CHECK_THAT(found.faults[0].words, Contains(stored.ids[0]) && Contains("Heron 6, upright"));
    CHECK(found.faults[1].code == "analysis-missing");
    CHECK_THAT(found.faults[1].words, Contains(stored.ids[1]));
    CHECK(found.faults[1].severity == Fault::Severity::doubt);
    CHECK(found.faults[2].code == "stance-without-takes");
}

TEST_CASE("A take with one side is no take of a pair")
{
    Stored stored;
    {
        auto folder = TrialFolder::open(stored.place);
        REQUIRE(folder);
        auto record = takeOf(9);
        record.analysis.right.reset();
        record.filing.stance.monitor = "Heron 6";
        REQUIRE(folder->add(std::move(record)));
    }
    const auto found = stored.read();
    CHECK(found.stances[0].takes.size() == 2);
    REQUIRE(found.faults.size() == 2);
    CHECK(found.faults[0].code == "take-sides");
    CHECK_THAT(found.faults[0].words, Contains("one side"));
}

TEST_CASE("A take that is kept though it is doubtful counts, and its doubt is passed on")
{
    Stored stored;
    {
        auto folder = TrialFolder::open(stored.place);
        REQUIRE(folder);
        auto record = takeOf(9);
        record.filing.stance.monitor = "Tarn 5";
        record.analysis.faults = { { "clipped", Fault::Severity::doubt, "The input was overloaded." } };
        REQUIRE(folder->add(std::move(record)));
    }
    const auto found = stored.read();
    CHECK(found.stances[1].takes.size() == 2);
    REQUIRE(found.faults.size() == 2);
    CHECK(found.faults[0].code == "take-doubtful");
    CHECK_THAT(found.faults[0].words, Contains("The input was overloaded."));
}
