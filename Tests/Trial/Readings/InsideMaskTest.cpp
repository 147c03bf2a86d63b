// What could pass here for the wrong reason: everything inside or everything outside. Here a counted number
// of bands lies outside, by a hair and by much, above and below.

#include "Trial/Bands.h"
#include "Trial/Boards.h"

using namespace plumbline;
using namespace plumbline::test;

TEST_CASE("The share inside the mask counts bands from 50 Hz to 16 kHz")
{
    CHECK(valueOf("inside the mask", oneTake(flat(-12))).value == Approx(100.0));
    const auto& bands = thirdOctaves();
    const auto at = [&](double name) { return bands[bandsFromTo(name, name)[0]]; };
    // Three bands of 26 far too high; outside the bands that the mean is taken over.
    const auto high = step(at(6300).lowHz * 1.02, at(10000).highHz * 0.98, 4.0);
    const auto some = valueOf("inside the mask", oneTake(high)).value;
    CHECK(some == Approx(100.0 * 23.0 / 26.0).margin(0.01));
    CHECK(valueOf("inside the mask", oneTake(step(at(6300).lowHz * 1.02, at(10000).highHz * 0.98, 2.5)))
              .value == Approx(100.0));
    CHECK(valueOf("inside the mask", oneTake(step(40, 70, -4.0))).value < 100.0);
    CHECK_FALSE(readingNamed("inside the mask").hasBetterSide());
}

TEST_CASE("A mask of the user's own counts instead, with limits between its points over log frequency")
{
    ToleranceMask mask{ "own", "mine", 500.0, 1000.0, { { 1000.0, -1.0, 1.0 }, { 4000.0, -3.0, 5.0 } } };
    CHECK(mask.at(2000.0)->lowerDb == Approx(-2.0));
    CHECK(mask.at(2000.0)->upperDb == Approx(3.0));
    CHECK_FALSE(mask.at(500.0));
    CHECK_FALSE(mask.at(5000.0));
    const auto stances =
        oneTake(slope(-1.0)); // about -0.7 dB at 1 kHz re the mean of 500 Hz-1 kHz, -2.7 dB at 4 kHz
    const MatchedBoard board(stances, usualMatchBand);
    const auto reading = readingNamed("inside the mask", mask);
    CHECK(ReadingEstimate(board, reading).value(0).value == Approx(100.0));
    mask.points = { { 1000.0, -0.1, 0.1 }, { 4000.0, -0.1, 0.1 } };
    const auto narrow = readingNamed("inside the mask", mask);
    CHECK(ReadingEstimate(board, narrow).value(0).value == Approx(0.0));
}
