// What could pass here for the wrong reason: positions that all change alike. Here sideways and fore-and-aft
// change by different amounts, and one stance was not measured everywhere.

#include "Trial/SeatChange.h"
#include "Trial/Bands.h"
#include "Trial/Boards.h"

using namespace plumbline;
using namespace plumbline::test;

namespace
{
const std::vector<Position> places{ { "seat", std::array<double, 3>{} },
                                    { "left", std::array{ -20.0, 0.0, 0.0 } },
                                    { "right", std::array{ 20.0, 0.0, 0.0 } },
                                    { "behind", std::array{ 0.0, 25.0, 0.0 } } };

StanceData measured(const std::string& name, bool behind)
{
    const auto up = step(4000, 20000, 2.0), down = step(4000, 20000, -1.0);
    std::vector<TakeData> takes{ takeOf(flat(0), flat(0)), takeOf(up, up, 1, "left"),
                                 takeOf(up, up, 1, "right") };
    if (behind)
        takes.push_back(takeOf(down, down, 1, "behind"));
    return stanceOf(name, takes);
}
}

TEST_CASE("Seat change over frequency, sideways and fore and aft apart")
{
    const std::vector<StanceData> stances{ measured("Heron 6, upright", true) };
    const MatchedBoard board(stances, usualMatchBand);
    const auto change = seatChangeOf(board.stances()[0], places);
    const auto low = *curveGrid::indexOf(1000.0), high = *curveGrid::indexOf(8000.0);
    CHECK(change.positions == 3);
    CHECK(change.allDb[low] == Approx(0.0).margin(1e-9));
    CHECK(change.leftRightDb[high] == Approx(2.0));
    CHECK(change.frontBackDb[high] == Approx(1.0));
    CHECK(change.allDb[high] == Approx(std::sqrt((4.0 + 4.0 + 1.0) / 3.0)));
    const std::vector<StanceData> alone{ stanceOf("Tarn 5, upright", { takeOf(flat(0), flat(0)) }) };
    const MatchedBoard bare(alone, usualMatchBand);
    CHECK(std::isnan(seatChangeOf(bare.stances()[0], places).allDb[high]));
}

TEST_CASE("The louder or softer place counts as change, level by level of the seat")
{
    const std::vector<StanceData> stances{ stanceOf(
        "Heron 6, upright", { takeOf(flat(0), flat(0)), takeOf(flat(-1.5), flat(-1.5), 1, "left") }) };
    const MatchedBoard board(stances, usualMatchBand);
    CHECK(seatChangeOf(board.stances()[0], places).allDb[300] == Approx(1.5));
}

TEST_CASE("The reading counts the positions that all stances share")
{
    const std::vector<StanceData> both{ measured("Heron 6, upright", true),
                                        measured("Tarn 5, upright", false) };
    const MatchedBoard board(both, usualMatchBand);
    CHECK(positionsOfAll(board) == std::vector<std::string>{ "left", "right" });
    // Bands from 5 kHz on change whole, the one at 4 kHz in part: 4 kHz is inside it.
    const auto value = valueOf("seat change", both, 0);
    const auto same = valueOf("seat change", both, 1);
    CHECK(value.value == Approx(same.value));
    CHECK(value.value > 2.0 * std::sqrt(4.0 / 21.0));
    CHECK(value.value < 2.0 * std::sqrt(5.0 / 21.0));
    CHECK(std::isnan(value.plusMinus)); // one set-up: nothing tells how sure it is
    CHECK_FALSE(valueOf("seat change", oneTake(flat(0))).known());
}
