// What could pass here for the wrong reason: a path difference that is right in size with woofer and tweeter
// exchanged; signs are checked by which driver is farther out.

#include "Rooms.h"

#include <catch2/catch.hpp>

using namespace plumbline;
using namespace plumbline::test;

namespace
{
MonitorModel twoWay(double spacingM)
{
    MonitorModel monitor;
    monitor.name = "Two";
    monitor.driverSpacingM = spacingM;
    return monitor;
}

/** A microphone at `distance` from the middle between the drivers, `degreesOff` from where the cabinet
    faces, level. */
Vec3 seenFrom(const Cabinet& cabinet, double distance, double degreesOff)
{
    const Vec3 middle = (cabinet.woofer + cabinet.tweeter) * 0.5;
    return middle + turned(cabinet.facing, degreesOff * std::numbers::pi / 180.0) * distance;
}
}

TEST_CASE("A pair laid down has the path difference of its geometry, upright it has none")
{
    // Closed form, computed by an independent script: path differences: delta = sqrt(r^2 + d^2/4 + r d sin th) - sqrt(r^2 + d^2/4 - r d sin th).
    struct Row
    {
        double spacing, angle, distance, millimetres;
    };

    const Row rows[] = { { 0.18, 12, 1.2, 37.32377945781362 }, { 0.12, 10, 1.0, 20.801495383396485 },
                         { 0.12, 30, 2.0, 59.97975569620739 }, { 0.16, 15, 1.0, 41.28790743479682 },
                         { 0.20, 30, 1.0, 99.62617 },          { 0.20, 15, 1.0, 51.52384616872718 } };
    for (const Row& row : rows)
    {
        INFO(row.spacing << " m, " << row.angle << " degrees, " << row.distance << " m");
        for (CabinetOrientation orientation :
             { CabinetOrientation::sideTweetersOut, CabinetOrientation::sideTweetersIn })
        {
            const Cabinet cabinet = standCabinet({}, twoWay(row.spacing), orientation, RoomSide::left);
            const Vec3 microphone = seenFrom(cabinet, row.distance, row.angle);
            const double difference =
                length(cabinet.tweeter - microphone) - length(cabinet.woofer - microphone);
            // Turned from x towards y is towards the seat's side of the left cabinet: away from an outer
            // tweeter.
            const double sign = orientation == CabinetOrientation::sideTweetersOut ? 1.0 : -1.0;
            CHECK(difference * 1000.0 == Approx(sign * row.millimetres).margin(6e-6));
        }
        const Cabinet upright =
            standCabinet({}, twoWay(row.spacing), CabinetOrientation::upright, RoomSide::left);
        const Vec3 microphone = seenFrom(upright, row.distance, row.angle);
        CHECK(length(upright.tweeter - microphone) ==
              Approx(length(upright.woofer - microphone)).epsilon(1e-14));
    }
}

TEST_CASE("On the tweeter's axis the woofer is sqrt(r^2 + d^2) away")
{
    // Closed form, computed by an independent script: microphone on one driver's axis: d 0.16, r 1.0: 12.719112093773077 mm.
    const Cabinet cabinet = standCabinet({}, twoWay(0.16), CabinetOrientation::upright, RoomSide::right);
    const Vec3 microphone = cabinet.tweeter + cabinet.facing * 1.0;
    const double difference = length(cabinet.woofer - microphone) - length(cabinet.tweeter - microphone);
    CHECK(difference * 1000.0 == Approx(12.719112093773077).margin(1e-9));
}

TEST_CASE("Left and right mirror each other in the line of symmetry, in every orientation")
{
    const PairPlacement placement;
    for (CabinetOrientation orientation : cabinetOrientations)
    {
        const Cabinet left = standCabinet(placement, twoWay(0.18), orientation, RoomSide::left);
        const Cabinet right = standCabinet(placement, twoWay(0.18), orientation, RoomSide::right);
        for (auto member : { &Cabinet::woofer, &Cabinet::tweeter })
        {
            CHECK((left.*member).x == Approx((right.*member).x));
            CHECK((left.*member).y + (right.*member).y == Approx(2.0 * placement.axisM));
            CHECK((left.*member).z == Approx((right.*member).z));
        }
        CHECK(left.facing.y == Approx(std::sin(15.0 * std::numbers::pi / 180.0))); // towards the axis
        CHECK(right.facing.y == Approx(-left.facing.y));
        CHECK(length(left.tweeter - left.woofer) == Approx(0.18));
        CHECK(std::abs((left.tweeter + left.woofer).y * 0.5 - (placement.axisM - placement.apartM / 2)) <
              1e-12);
    }
    const auto tweeterY = [&](CabinetOrientation orientation)
    { return standCabinet(placement, twoWay(0.18), orientation, RoomSide::left).tweeter.y; };
    CHECK(tweeterY(CabinetOrientation::sideTweetersOut) < tweeterY(CabinetOrientation::upright));
    CHECK(tweeterY(CabinetOrientation::sideTweetersIn) > tweeterY(CabinetOrientation::upright));
    const Cabinet upright =
        standCabinet(placement, twoWay(0.18), CabinetOrientation::upright, RoomSide::left);
    CHECK(upright.tweeter.z - upright.woofer.z == Approx(0.18));
}

TEST_CASE("A cabinet that is moved and turned keeps its drivers together")
{
    const Cabinet cabinet = standCabinet({}, twoWay(0.2), CabinetOrientation::sideTweetersIn, RoomSide::left,
                                         { 0.01, -0.02, 0.0 }, 3.0);
    CHECK(std::atan2(cabinet.facing.y, cabinet.facing.x) * 180.0 / std::numbers::pi == Approx(18.0));
    const Vec3 middle = (cabinet.woofer + cabinet.tweeter) * 0.5;
    CHECK(middle.x == Approx(1.13));
    CHECK(middle.y == Approx(2.0 - 0.74 - 0.02));
    CHECK(dot(cabinet.tweeter - cabinet.woofer, cabinet.facing) == Approx(0.0).margin(1e-15));
}
