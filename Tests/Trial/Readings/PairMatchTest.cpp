// What could pass here for the wrong reason: noise that makes every difference without sign larger than it
// is. So takes with zero-mean scatter must read nearly nothing, less than any one of them, and planted
// differences their own size.

#include "Trial/Boards.h"

using namespace plumbline;
using namespace plumbline::test;

namespace
{
std::vector<StanceData> pairOf(const Shape& left, const Shape& right)
{
    return { stanceOf("Heron 6, upright", { takeOf(left, right) }) };
}
}

TEST_CASE("Pair match: level, shape and arrival each read what was planted, and not each other")
{
    CHECK(valueOf("pair match, level", pairOf(flat(1.2), flat(0.0))).value == Approx(1.2));
    CHECK(valueOf("pair match, shape", pairOf(flat(1.2), flat(0.0))).value == Approx(0.0).margin(1e-6));
    CHECK(valueOf("pair match, level", pairOf(flat(0.0), flat(1.2))).value == Approx(1.2));
    // Half of the 16 bands from 250 Hz to 8 kHz 2 dB up: root mean square 1 about their mean (edges on band
    // edges).
    const double edge = 1000.0 * std::pow(10.0, 0.15);
    const auto shape = valueOf("pair match, shape", pairOf(step(edge, 30000, 2.0), flat(0)));
    CHECK(shape.value == Approx(1.0).margin(0.03));
    auto late = pairOf(flat(0), flat(0));
    late[0].takes[0].sides[1].travelSeconds = 0.00412;
    CHECK(valueOf("pair match, arrival", late).value == Approx(0.12));
    CHECK(valueOf("pair match, level", late).value == Approx(0.0).margin(1e-9));
    const auto also = readingNamed("pair match, arrival").also;
    REQUIRE(also);
    CHECK(0.12 * also->factor == Approx(41.184)); // 0.12 ms of sound in mm
    CHECK(also->unit == "mm");
}

TEST_CASE("Scatter about no difference reads less than any of its takes")
{
    std::vector<TakeData> takes;
    for (const double off : { -0.6, 0.4, 0.2 })
        takes.push_back(takeOf(flat(off), flat(0)));
    const std::vector<StanceData> stances{ stanceOf("Heron 6, upright", takes) };
    const auto level = valueOf("pair match, level", stances);
    CHECK(level.value == Approx(0.0).margin(1e-6));
    CHECK(level.low == 0.0);
    CHECK(level.high > 0.3);
}

TEST_CASE("A single monitor has no pair match, and a side that was not heard no arrival")
{
    auto single = pairOf(flat(0), flat(0));
    single[0].takes[0].sides.resize(1);
    for (const char* name : { "pair match, level", "pair match, shape", "pair match, arrival" })
        CHECK_FALSE(valueOf(name, single).known());
    auto unheard = pairOf(flat(0), flat(0));
    unheard[0].takes[0].sides[0].travelSeconds.reset();
    CHECK_FALSE(valueOf("pair match, arrival", unheard).known());
}
