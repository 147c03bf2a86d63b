// What could pass here for the wrong reason: curves that lie over each other anyway. The ones here differ in
// level and in bass, and the bass must still differ by as much after matching.

#include "Trial/Bands.h"
#include "Trial/Boards.h"

using namespace plumbline;
using namespace plumbline::test;

namespace
{
std::vector<StanceData> threeLoudnesses()
{
    const auto thin = plus(flat(-3.0), step(20.0, 200.0, -9.0));
    return { stanceOf("Heron 6, upright", { takeOf(flat(0.0), flat(0.0)) }),
             stanceOf("Tarn 5, upright", { takeOf(thin, thin) }),
             stanceOf("Osier 8, upright", { takeOf(flat(2.5), flat(2.5)) }) };
}
}

TEST_CASE("The trim brings every stance down to the softest and boosts none")
{
    const auto stances = threeLoudnesses();
    const MatchedBoard board(stances, usualMatchBand);
    REQUIRE(board.stances().size() == 3);
    CHECK(board.stances()[0].trimDb == Approx(-3.0));
    CHECK(board.stances()[1].trimDb == Approx(0.0).margin(1e-9));
    CHECK(board.stances()[2].trimDb == Approx(-5.5));
}

TEST_CASE("Levels are matched before curves are judged, and matching changes no shape")
{
    const auto stances = threeLoudnesses();
    const MatchedBoard board(stances, usualMatchBand);
    for (std::size_t s = 0; s < 3; ++s)
    {
        const auto& matched = board.seatTakes()[s]->sides[0];
        const auto& plain = stances[s].takes[0].sides[0].levelDb;
        CHECK(pinkMeanDb(matched, 300.0, 3000.0) == Approx(0.0).margin(1e-9));
        for (std::size_t i = 40; i < 480; ++i)
            CHECK(matched[i] - matched[288] == Approx(plain[i] - plain[288]).margin(1e-9));
    }
    // The bass that Tarn 5 lacks is lacking still.
    CHECK(board.seatTakes()[1]->sides[0][100] == Approx(-9.0));
}

TEST_CASE("Both sides count in the level by their power")
{
    const auto take = takeOf(flat(0.0), flat(-10.0));
    CHECK(matchLevelDb(take, usualMatchBand) == Approx(10.0 * std::log10(0.55)));
    CHECK(std::isnan(matchLevelDb(TakeData{}, usualMatchBand)));
    auto deaf = take;
    deaf.sides[1].levelDb[300] = unknownValue;
    CHECK(std::isnan(matchLevelDb(deaf, usualMatchBand)));
    CHECK(matchLevelDb(deaf, { 2000.0, 4000.0 }) == Approx(10.0 * std::log10(0.55)));
}
