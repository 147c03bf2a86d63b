// What could pass here for the wrong reason: a formula compared with itself. The tables were worked out
// outside the project (SciPy, and in part again in Octave) from the geometry, the places of drivers in space
// are compared with the plane formula, and the model of drivers and crossover is compared with the practice
// room's direct sound, which knows beams, baffle places and the real filters and nothing of this formula.

#include "Trial/Geometry.h"

#include "Core/Units.h"

#include <catch2/catch.hpp>
#include <cmath>

using namespace plumbline;

namespace
{
constexpr double speed = 343.2;

/** Path of the woofer less path of the tweeter, 18 cm apart. */
double differenceAt(const CabinetPlace& place, DriverOrientation orientation,
                    const std::array<double, 3>& microphoneM)
{
    const auto paths = driverPaths(place, orientation, 0.18, microphoneM);
    return paths.wooferM - paths.tweeterM;
}
}

TEST_CASE("Path difference and first null agree with worked examples")
{
    const double table[][5] = {
        // spacing m, degrees off axis, distance m, difference mm, c / (2 difference) Hz
        { 0.12, 5, 1.0, 10.4400559, 16436.6936 },  { 0.12, 5, 2.0, 10.4540216, 16414.7356 },
        { 0.12, 10, 1.0, 20.8014954, 8249.40692 }, { 0.12, 10, 2.0, 20.8286928, 8238.63513 },
        { 0.12, 15, 1.0, 31.006244, 5534.36915 },  { 0.12, 15, 2.0, 31.0452528, 5527.41512 },
        { 0.12, 20, 1.0, 40.9773106, 4187.68332 }, { 0.12, 20, 2.0, 41.0261166, 4182.70152 },
        { 0.12, 30, 1.0, 59.9190912, 2863.86186 }, { 0.12, 30, 2.0, 59.9797557, 2860.9653 },
        { 0.16, 5, 1.0, 13.9008418, 12344.5761 },  { 0.16, 5, 2.0, 13.9338607, 12315.3234 },
        { 0.16, 10, 1.0, 27.6978644, 6195.4235 },  { 0.16, 10, 2.0, 27.7621757, 6181.07175 },
        { 0.16, 15, 1.0, 41.2879074, 4156.1806 },  { 0.16, 15, 2.0, 41.3801689, 4146.91396 },
        { 0.16, 20, 1.0, 54.5691312, 3144.635 },   { 0.16, 20, 2.0, 54.6845992, 3137.99502 },
        { 0.16, 30, 1.0, 79.8083844, 2150.15003 }, { 0.16, 30, 2.0, 79.952024, 2146.28713 },
        { 0.2, 5, 1.0, 17.3452869, 9893.17736 },   { 0.2, 5, 2.0, 17.4095649, 9856.65071 },
        { 0.2, 10, 1.0, 34.5623891, 4964.93456 },  { 0.2, 10, 2.0, 34.6876058, 4947.01194 },
        { 0.2, 15, 1.0, 51.5238462, 3330.49671 },  { 0.2, 15, 2.0, 51.703534, 3318.92207 },
        { 0.2, 20, 1.0, 68.1036568, 2519.68849 },  { 0.2, 20, 2.0, 68.3286286, 2511.39242 },
        { 0.2, 30, 1.0, 99.6261739, 1722.43893 },  { 0.2, 30, 2.0, 99.9063233, 1717.609 },
    };
    for (const auto& [spacing, degrees, distance, millimetres, hz] : table)
    {
        const double difference = pathDifference(spacing, distance, degrees);
        CHECK(1000.0 * difference == Approx(millimetres).epsilon(1e-8));
        CHECK(firstNullHz(difference, speed) == Approx(hz).epsilon(1e-8));
        CHECK(pathDifference(spacing, distance, -degrees) == Approx(difference));
    }
    const double onAxis[][4] = {
        // spacing m, distance m, difference mm, c / (2 difference) Hz
        { 0.12, 0.5, 14.1984053, 12085.8643 }, { 0.12, 1.0, 7.17426496, 23918.8267 },
        { 0.12, 2.0, 3.59676582, 47709.5281 }, { 0.16, 0.5, 24.9761899, 6870.54352 },
        { 0.16, 1.0, 12.7191121, 13491.5078 }, { 0.16, 2.0, 6.38979264, 26855.3316 },
        { 0.2, 0.5, 38.5164807, 4455.2357 },   { 0.2, 1.0, 19.8039027, 8664.95874 },
        { 0.2, 2.0, 9.97512422, 17202.7933 },
    };
    for (const auto& [spacing, distance, millimetres, hz] : onAxis)
    {
        const double difference = pathDifferenceOnDriverAxis(spacing, distance);
        CHECK(1000.0 * difference == Approx(millimetres).epsilon(1e-8));
        CHECK(firstNullHz(difference, speed) == Approx(hz).epsilon(1e-8));
    }
}

TEST_CASE("A worked stance: 18 cm between drivers, 1.2 m away, 12 degrees off")
{
    const double difference = pathDifference(0.18, 1.2, 12.0);
    CHECK(1000.0 * difference == Approx(37.32378).margin(1e-5));
    CHECK(1e6 * difference / speed == Approx(108.75227).margin(1e-5));
    CHECK(firstNullHz(difference, speed) == Approx(4597.6051).margin(1e-3));
    CHECK(firstNullHz(difference, speedOfSound(20.0)) == Approx(4597.6051).margin(1e-3));
    CHECK(firstNullHz(difference, speedOfSound(30.0)) == Approx(4597.6051 * 349.0046 / 343.2).margin(0.01));
}

TEST_CASE("Ripple of two arrivals by their difference in level")
{
    const double table[][3] = {
        // dB, peak, dip
        { 0.5, 5.77419721, -25.0456868 },   { 1, 5.53498313, -19.2714896 },
        { 2, 5.07803782, -13.7365065 },     { 3, 4.64948161, -10.6907304 },
        { 6, 3.52869725, -6.0412488 },      { 10, 2.38662096, -3.30177077 },
        { 12, 1.94645587, -2.51255155 },    { 15, 1.42163705, -1.70074573 },
        { 20, 0.827853703, -0.915149811 },  { 30, 0.270418442, -0.279108678 },
        { 40, 0.0864274757, -0.087296108 },
    };
    for (const auto& [difference, peak, dip] : table)
    {
        CHECK(rippleOf(difference).peakDb == Approx(peak).margin(1e-6));
        CHECK(rippleOf(difference).dipDb == Approx(dip).margin(1e-6));
    }
    CHECK(std::isinf(rippleOf(0.0).dipDb));
    CHECK(rippleOf(0.0).peakDb == Approx(6.02060).margin(1e-5));
}

TEST_CASE("The floor's reflection: both 1.2 m high, 1.5 m apart")
{
    const auto floor = bounceOf(1.2, 1.2, 1.5, speed, 1000.0);
    CHECK(floor.extraPathM == Approx(1.330194).margin(1e-6));
    CHECK(floor.delayMs == Approx(3.875858).margin(1e-6));
    CHECK(floor.levelDb == Approx(-5.51450).margin(1e-5));
    REQUIRE(floor.dipsHz.size() == 4); // 129, 387, 645, 903
    CHECK(floor.dipsHz[0] == Approx(129.00371).margin(1e-4));
    CHECK(floor.dipsHz[3] == Approx(7.0 * 129.00371).margin(1e-3));
}

TEST_CASE("Drivers placed in space give the plane formula, mirrored left and right")
{
    // No toe-in, microphone level with the cabinet: off axis by atan(aside / ahead).
    const CabinetPlace right{ false, 0.5, 1.2, 0.0, 0.0 }, left{ true, 0.5, 1.2, 0.0, 0.0 };
    const double distance = std::hypot(0.5, 1.2), degrees = degreesFromRadians(std::atan2(0.5, 1.2));
    const double plane = pathDifference(0.18, distance, degrees);
    for (const auto& cabinet : { left, right })
    {
        // The seat lies inwards of the cabinet: a tweeter inside is nearer, the woofer farther.
        CHECK(differenceAt(cabinet, DriverOrientation::tweeterIn, {}) == Approx(plane));
        CHECK(differenceAt(cabinet, DriverOrientation::tweeterOut, {}) == Approx(-plane));
        CHECK(differenceAt(cabinet, DriverOrientation::upright, {}) == Approx(0.0).margin(1e-12));
    }
    // Turned so that it faces the seat, both drivers are equally far; beside the seat they are not.
    CabinetPlace aimed = left;
    aimed.toeInDegrees = degrees;
    CHECK(differenceAt(aimed, DriverOrientation::tweeterOut, {}) == Approx(0.0).margin(1e-12));
    CHECK(differenceAt(aimed, DriverOrientation::tweeterOut, { 0.2, 0.0, 0.0 }) < -0.01);
    CHECK(differenceAt(aimed, DriverOrientation::tweeterOut, { -0.2, 0.0, 0.0 }) > 0.01);
    // Upright and 10 cm over the ear the woofer is the nearer one.
    CabinetPlace high = right;
    high.upM = 0.1;
    CHECK(differenceAt(high, DriverOrientation::upright, {}) < -0.01);
    CHECK(driverPaths(right, DriverOrientation::upright, 0.0, {}).wooferOffAxisDegrees == Approx(degrees));
    CHECK(driverPaths(aimed, DriverOrientation::upright, 0.0, {}).wooferOffAxisDegrees ==
          Approx(0.0).margin(1e-5));
    CHECK(differenceAt(high, DriverOrientation::upright, { 0.0, 0.0, 0.1 }) == Approx(0.0).margin(1e-12));
}

TEST_CASE("c / (2 difference) is the dip only where the crossover is: elsewhere the crossover pulls it")
{
    // Figures of a prototype outside the project: c/2d at 0.8, 1.25, 1.5 x crossover lies +13, -14, -25 % off
    // the dip, which is 11, 12, 7 dB deep.
    const double table[][3] = { { 0.8, 13, 11 }, { 1.25, -14, 12 }, { 1.5, -25, 7 } };
    for (const auto& [ratio, percent, depth] : table)
    {
        const auto dip = crossoverDip({ 1600.0 }, speed / 2.0 / (ratio * 1600.0));
        REQUIRE(dip);
        CHECK(100.0 * (dip->frequencyHz / (ratio * 1600.0) - 1.0) == Approx(percent).margin(0.6));
        CHECK(-dip->depthDb == Approx(depth).margin(0.6));
    }
    const auto here = crossoverDip({ 2000.0 }, speed / 2.0 / 2000.0);
    REQUIRE(here);
    CHECK(here->frequencyHz == Approx(2000.0).epsilon(0.001));
    CHECK(here->depthDb < -40.0);
    CHECK_FALSE(crossoverDip({ 2000.0 }, 0.0));
    // Drivers in step sum to the woofer's own level at every frequency (an LR4 sum is all-pass).
    for (const double hz : { 100.0, 700.0, 2000.0, 15000.0 })
        CHECK(directSoundDb({ 2000.0 }, {}, hz) == Approx(0.0).margin(1e-9));
    // Far under the crossover the woofer plays alone, far over it the tweeter: no path difference matters.
    for (const double hz : { 100.0, 40000.0 })
        CHECK(directSoundDb({ 2000.0 }, { 1.0, 1.08, 0.0 }, hz) ==
              Approx(hz < 2000.0 ? 0.0 : -20.0 * std::log10(1.08)).margin(0.01));
}

TEST_CASE("A woofer that beams, or is farther, moves the dip down")
{
    // 2 J1(x) / x = 0.5 at x = 2.2151 (tables of the Bessel functions): so much weaker is the woofer there,
    // far enough off its axis. With paths half a wave apart they arrive in opposition: w - t against w + t, w
    // / t = (f0 / f)^4 beam.
    const double hz = 1600.0, radius = 0.08, half = speed / 2.0 / hz, ratio = std::pow(2000.0 / hz, 4);
    const double degrees =
        degreesFromRadians(std::asin(2.2151 / (2.0 * 3.14159265358979 * hz * radius / speed)));
    const double share = 1.0 / (1.0 + ratio); // of the tweeter in the sum
    const DriverModel model{ 2000.0, speed, radius };
    const DriverPaths beside{ 1e6, 1e6 + half, degrees }, straight{ 1e6, 1e6 + half, 0.0 };
    const double far = 20.0 * std::log10(1e6);
    CHECK(directSoundDb(model, straight, hz) + far ==
          Approx(20.0 * std::log10((ratio - 1.0) * share)).margin(1e-4));
    CHECK(directSoundDb(model, beside, hz) + far ==
          Approx(20.0 * std::log10((0.5 * ratio - 1.0) * share)).margin(0.01));
    const DriverPaths level{ 1e6, 1e6, 0.0 };
    CHECK(crossoverDip(model, beside, level)->frequencyHz <
          crossoverDip(model, straight, level)->frequencyHz);
    const DriverPaths near{ 1.0, 1.0, 0.0 };
    CHECK(crossoverDip(model, { 1.0 + half, 1.0, 0.0 }, near)->frequencyHz <
          crossoverDip(model, { 1.0, 1.0 + half, 0.0 }, near)->frequencyHz);
}
