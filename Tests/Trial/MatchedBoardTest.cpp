// What could pass here for the wrong reason: boards whose takes all know the same. Here one take knows less,
// one stance nothing, and what remains must be the common part and be said.

#include "Trial/Bands.h"
#include "Trial/Boards.h"

using namespace plumbline;
using namespace plumbline::test;

TEST_CASE("Takes are compared on the band that all of them know")
{
    auto narrow = takeOf(flat(0.0), flat(0.0), 2);
    narrow.sides[1].levelDb = curveOf(flat(0.0), 80.0, 12000.0);
    const std::vector<StanceData> stances{ stanceOf("Heron 6, upright",
                                                    { takeOf(flat(0.0), flat(0.0)), narrow }),
                                           stanceOf("Tarn 5, upright", { takeOf(flat(1.0), flat(1.0)) }) };
    const MatchedBoard board(stances, usualMatchBand);
    const auto& common = board.commonPoints();
    CHECK_FALSE(common[*curveGrid::indexOf(62.5)]);
    CHECK(common[*curveGrid::indexOf(125.0)]);
    CHECK(common[*curveGrid::indexOf(8000.0)]);
    CHECK_FALSE(common[*curveGrid::indexOf(16000.0)]);
    CHECK(knownBands(board, 20, 20000).size() == bandsFromTo(100, 10000).size());
    CHECK(allBands(board, 100, 10000).size() == 21);
    CHECK(allBands(board, 50, 16000).empty()); // a figure over fewer bands would be another figure
    for (const auto* take : board.seatTakes())
        CHECK(std::isnan(take->thirds[0][bandsFromTo(63, 63)[0]]));
}

TEST_CASE("The layout follows stances, set-ups and takes, and leaves other positions out")
{
    const std::vector<StanceData> stances{
        stanceOf("Heron 6, upright", { takeOf(flat(0), flat(0), 3), takeOf(flat(0), flat(0), 1),
                                       takeOf(flat(0), flat(0), 3), takeOf(flat(0), flat(0), 1, "left") }),
        stanceOf("Tarn 5, upright", { takeOf(flat(0), flat(0), 1) })
    };
    const MatchedBoard board(stances, usualMatchBand);
    REQUIRE(board.layout().stances.size() == 2);
    REQUIRE(board.layout().stances[0].size() == 2);
    CHECK(board.layout().stances[0][0].count == 1);
    CHECK(board.layout().stances[0][1].count == 2);
    CHECK(board.layout().takes == 4);
    CHECK(board.stances()[0].setUps[1].number == 3);
    CHECK(board.stances()[0].setUps[0].elsewhere.size() == 1);
    CHECK(board.notes().empty());
}

TEST_CASE("What cannot be compared is left out and said")
{
    auto deaf = takeOf(flat(0.0), flat(0.0));
    deaf.sides[0].levelDb[300] = unknownValue;
    const std::vector<StanceData> stances{
        stanceOf("Heron 6, upright", { deaf, takeOf(flat(0.0), flat(0.0)) }),
        stanceOf("Tarn 5, upright", { deaf }), stanceOf("Osier 8, upright", {})
    };
    const MatchedBoard board(stances, usualMatchBand);
    REQUIRE(board.stances().size() == 1);
    CHECK(board.seatTakes().size() == 1);
    std::string said;
    for (const auto& note : board.notes())
        said += note + '\n';
    CHECK_THAT(said, Catch::Contains("Heron 6, upright: 1 take is left out"));
    CHECK_THAT(said, Catch::Contains("Tarn 5, upright has no take") &&
                         Catch::Contains("Osier 8, upright has no take"));
}

TEST_CASE("Takes of other rates, calibrations, smoothings or warmth are allowed and said")
{
    const auto notesWith = [](auto change)
    {
        auto other = takeOf(flat(0.0), flat(0.0));
        change(other.conditions);
        const std::vector<StanceData> stances{ stanceOf("Heron 6, upright",
                                                        { takeOf(flat(0), flat(0)), other }) };
        return MatchedBoard(stances, usualMatchBand).notes();
    };
    CHECK(notesWith([](TakeConditions&) {}).empty());
    CHECK_THAT(notesWith([](auto& c) { c.sampleRateHz = 96000; }).at(0), Catch::Contains("sample rate"));
    CHECK_THAT(notesWith([](auto& c) { c.calibration = "other"; }).at(0), Catch::Contains("calibration"));
    CHECK_THAT(notesWith([](auto& c) { c.smoothingPerOctave = 3; }).at(0), Catch::Contains("smoothing"));
    CHECK_THAT(notesWith([](auto& c) { c.temperatureC = 25.0; }).at(0), Catch::Contains("temperature"));
    CHECK(notesWith([](auto& c) { c.temperatureC = 21.0; }).empty());
}
