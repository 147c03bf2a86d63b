// What could pass here for the wrong reason: faults planted so plainly that anything finds them, and a check
// that cries at sound pairs. So takes come from the practice room with its placing errors, every kind of
// fault is planted in turn, each must be found alone, and sound pairs are counted over many seeds.

#include "Trial/MirrorCheck.h"
#include "PracticeRoom/Standing.h"
#include "Trial/PracticeBank.h"

#include <catch2/catch.hpp>
#include <iostream>

using namespace plumbline;
using namespace plumbline::test;

namespace
{
struct Planted
{
    CabinetOrientation left = CabinetOrientation::sideTweetersOut,
                       right = CabinetOrientation::sideTweetersOut;
    bool swapped = false, reversed = false;
};

const std::vector<Position>& places()
{
    static const std::vector<Position> list{ { "seat", std::array<double, 3>{} },
                                             { "left", std::array{ -20.0, 0.0, 0.0 } },
                                             { "right", std::array{ 20.0, 0.0, 0.0 } } };
    return list;
}

/** First arrivals only: the tweeters' paths with all placing errors, as a take's analysis finds them. */
StanceData measured(const Scenario& scenario, const Planted& planted, const std::string& name, Random& random)
{
    StanceData stance{ { "Heron 6", name }, {}, {} };
    const auto moved = [&]
    {
        const double x = random.normal(), y = random.normal();
        return Vec3{ 0.005 * x, 0.005 * y, 0.0 };
    };
    const auto leftMoved = moved(), rightMoved = moved();
    const auto left = standCabinet(scenario.placement, scenario.monitors[0], planted.left, RoomSide::left,
                                   leftMoved, random.normal());
    const auto right = standCabinet(scenario.placement, scenario.monitors[0], planted.right, RoomSide::right,
                                    rightMoved, random.normal());
    for (const auto& place : places())
    {
        const auto offset = *place.offsetCm;
        const double x = random.normal(), y = random.normal(), z = random.normal();
        const auto microphone =
            scenario.microphone.seatM + Vec3{ 0.01 * (offset[1] + x), 0.01 * (offset[0] + y), 0.01 * z };
        TakeData take;
        take.position = place.name;
        take.sides.resize(2);
        take.sides[0].travelSeconds = length(left.tweeter - microphone) / 343.2;
        take.sides[1].travelSeconds = length(right.tweeter - microphone) / 343.2;
        take.sides[0].polarity = 1;
        take.sides[1].polarity = planted.reversed ? -1 : 1;
        if (planted.swapped)
            std::swap(take.sides[0], take.sides[1]);
        stance.takes.push_back(take);
    }
    return stance;
}

CabinetPlace placeOf(const Scenario& scenario)
{
    return { true, 0.5 * scenario.placement.apartM, scenario.microphone.seatM.x - scenario.placement.frontM,
             0.0, scenario.placement.toeInDegrees };
}

struct Count
{
    int polarity = 0, swapped = 0, unmirrored = 0;
};

Count count(const Planted& planted, int seeds)
{
    const auto scenario = threePairs(0.2);
    const Planted upright{ CabinetOrientation::upright, CabinetOrientation::upright };
    Count found;
    for (int seed = 1; seed <= seeds; ++seed)
    {
        Random random(static_cast<std::uint64_t>(seed));
        const auto stood = measured(scenario, upright, "upright", random);
        const auto laid = measured(scenario, planted, "side, tweeters out", random);
        for (const auto& fault : wiringFaults(laid, places()))
            ++(fault.kind == PairFault::Kind::polarity ? found.polarity : found.swapped);
        const auto shift = tweeterShift(laid, stood, placeOf(scenario), places());
        REQUIRE(shift);
        found.unmirrored += mirrorFault(*shift, scenario.monitors[0].driverSpacingM) ? 1 : 0;
    }
    return found;
}
}

TEST_CASE("A sound pair on its side is called sound")
{
    for (const auto orientation : { CabinetOrientation::sideTweetersOut, CabinetOrientation::sideTweetersIn })
    {
        const auto found = count({ orientation, orientation }, 200);
        CHECK(found.polarity == 0);
        CHECK(found.swapped == 0);
        std::cout << "sound pairs said not to be mirrored: " << found.unmirrored << " of 200\n";
        CHECK(found.unmirrored <= 4);
    }
}

TEST_CASE("Reversed polarity, exchanged channels and a pair that is not mirrored are each recognised")
{
    CHECK(count({ CabinetOrientation::upright, CabinetOrientation::upright, false, true }, 50).polarity ==
          50);
    const auto swapped =
        count({ CabinetOrientation::sideTweetersOut, CabinetOrientation::sideTweetersOut, true, false }, 200);
    CHECK(swapped.swapped >= 198);
    CHECK(swapped.polarity == 0);
    const auto unmirrored =
        count({ CabinetOrientation::sideTweetersOut, CabinetOrientation::sideTweetersIn }, 200);
    std::cout << "pairs not mirrored and recognised: " << unmirrored.unmirrored << " of 200\n";
    CHECK(unmirrored.unmirrored >= 180);
    CHECK(unmirrored.swapped <= 2);
}

TEST_CASE("The tweeters' shift is found with its size and side")
{
    auto scenario = threePairs(0.2);
    Random random(3);
    const auto stood =
        measured(scenario, { CabinetOrientation::upright, CabinetOrientation::upright }, "upright", random);
    double left = 0.0, right = 0.0;
    for (int i = 0; i < 40; ++i)
    {
        const auto laid =
            measured(scenario, { CabinetOrientation::sideTweetersOut, CabinetOrientation::sideTweetersIn },
                     "x", random);
        const auto again = measured(scenario, { CabinetOrientation::upright, CabinetOrientation::upright },
                                    "upright", random);
        const auto shift = tweeterShift(laid, again, placeOf(scenario), places());
        left += shift->leftM / 40;
        right += shift->rightM / 40;
    }
    CHECK(left == Approx(0.089).margin(0.03));
    CHECK(right == Approx(-0.089).margin(0.03));
}

TEST_CASE("Where nothing can be told nothing is said")
{
    const auto scenario = threePairs(0.2);
    Random random(1);
    auto stance = measured(
        scenario, { CabinetOrientation::upright, CabinetOrientation::upright, true, false }, "x", random);
    stance.takes.resize(1); // the seat alone: exchanged channels cannot be seen
    CHECK(wiringFaults(stance, places()).empty());
    CHECK_FALSE(tweeterShift(stance, StanceData{}, placeOf(scenario), places()));
    auto aimed = placeOf(scenario);
    aimed.toeInDegrees = 180.0 / 3.14159265358979 * std::atan2(aimed.asideM, aimed.aheadM);
    CHECK_FALSE(tweeterShift(stance, stance, aimed, places())); // facing the seat, both drivers stay as far
}
