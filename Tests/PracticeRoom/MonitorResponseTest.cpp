// What could pass here for the wrong reason: left and right differing by the whole unit difference in the
// wrong direction with the right size; the sign is checked.

#include "Rooms.h"

#include <catch2/catch.hpp>

using namespace plumbline;
using namespace plumbline::test;

namespace
{
double levelAt(const MonitorModel& monitor, RoomSide side, double frequencyHz)
{
    return decibels(std::abs(driverResponse(monitor, side, Driver::woofer, frequencyHz) +
                             driverResponse(monitor, side, Driver::tweeter, frequencyHz)));
}
}

TEST_CASE("A monitor's response has its corners, bumps, trim and half of the units' difference on each side")
{
    MonitorModel monitor;
    monitor.name = "Two";
    monitor.lowCornerHz = 50.0;
    monitor.lowOrder = 4;
    monitor.highOrder = 0;
    CHECK(levelAt(monitor, RoomSide::left, 50.0) == Approx(-3.0103).margin(1e-3));
    CHECK(levelAt(monitor, RoomSide::left, 5000.0) == Approx(0.0).margin(1e-6)); // the crossover adds up flat
    monitor.trimDb = -2.4;
    monitor.bumps = { { 1000.0, 1.5, 2.0 } };
    CHECK(levelAt(monitor, RoomSide::left, 1000.0) == Approx(-0.9).margin(1e-3));
    monitor.rightLessLeft = { { 1000.0, 0.6, 1.2 } };
    CHECK(levelAt(monitor, RoomSide::right, 1000.0) == Approx(-0.6).margin(1e-3));
    CHECK(levelAt(monitor, RoomSide::left, 1000.0) == Approx(-1.2).margin(1e-3));
}

TEST_CASE("A driver is worked out only in the bands that its crossover lets through above -80 dB")
{
    MonitorModel monitor;
    monitor.crossoverHz = 2200.0;
    const BandRange woofer = bandsOf(monitor, Driver::woofer), tweeter = bandsOf(monitor, Driver::tweeter);
    CHECK(woofer.first == 0);
    CHECK(woofer.first + woofer.count == roomBandsHz.size());
    CHECK(roomBandsHz[tweeter.first] == 125.0); // next to 250 Hz, where LR4 at 2.2 kHz is 76 dB down
    CHECK(tweeter.first + tweeter.count == roomBandsHz.size());
    monitor.crossoverHz = 0.0;
    CHECK(bandsOf(monitor, Driver::woofer).count == roomBandsHz.size());
    CHECK(driverResponse(monitor, RoomSide::left, Driver::tweeter, 5000.0) == std::complex<double>(0.0));
}

TEST_CASE("A slow corner rings longer than a fast one")
{
    MonitorModel slow, fast;
    slow.lowCornerHz = 40.0;
    fast.lowCornerHz = 160.0;
    CHECK(ringSeconds(slow) == Approx(4.0 * ringSeconds(fast)).epsilon(0.01));
    // Order 2: poles at -45 degrees, decay w0 / sqrt(2); 120 dB are 13.8 of its time constants.
    CHECK(ringSecondsOfHighPass(30.0, 2) ==
          Approx(13.8155 * std::sqrt(2.0) / (2.0 * std::numbers::pi * 30.0)).epsilon(1e-4));
}
