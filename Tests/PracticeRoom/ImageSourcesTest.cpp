// What could pass here for the wrong reason: agreement with an oracle that counts images the way we do. The
// oracle here numbers reflections along each axis one by one (m-th image: m reflections), keeps no bands
// and no grid, and adds complex exponentials; closed forms (two arrivals, room modes) come beside it.

#include "PracticeRoom/ExactResponse.h"
#include "Rooms.h"

#include <catch2/catch.hpp>

using namespace plumbline;
using namespace plumbline::test;

namespace
{
/** Left monitor of stance `stance` at the seat: the realised response without latency at the given
    frequencies. */
std::vector<std::complex<double>> heard(const PracticeRoom& room, const std::vector<double>& frequencies,
                                        std::size_t stance = 0, std::size_t position = 0)
{
    const RealisedPath path = room.path(room.standing(stance), RoomSide::left, room.position(position));
    return room.truthOverReference(path, frequencies);
}

/** A pulse from the point above a floor and no other wall: `heightM` for both, 1.5 m apart. */
Scenario overAFloor(double heightM, double reflection)
{
    Scenario scenario = pointInTheOpen();
    scenario.studio.absorption->floor = everywhere(1.0 - reflection * reflection);
    scenario.placement.heightM = scenario.microphone.seatM.z = heightM;
    return scenario;
}

struct OneAxis
{
    double place, facing;
    int first, second; ///< reflections on the wall at 0 and on the wall at `size`
};

/** The image after m reflections, the first of them on the far wall for m > 0, on the near wall for m < 0. */
OneAxis imageAfter(int m, double place, double facing, double size)
{
    const int count = std::abs(m), half = count / 2, more = count - half;
    const bool odd = count % 2 == 1;
    double at = place;
    for (int i = 0; i < count; ++i) // walk outwards, mirroring in each wall's image in turn
    {
        const double wall = m > 0 ? static_cast<double>(i + 1) * size : static_cast<double>(-i) * size;
        at = 2.0 * wall - at;
    }
    return { at, odd ? -facing : facing, m > 0 ? half : more, m > 0 ? more : half };
}

/** What one arrival weighs in every band, from the formulas of ImageSources.h. */
BandValues weights(double cosine, double radiusM, double halfWidthM, double speed)
{
    BandValues values;
    for (std::size_t b = 0; b < values.size(); ++b)
    {
        const double k = 2.0 * std::numbers::pi * roomBandsHz[b] / speed;
        const double across = k * radiusM * std::sqrt(1.0 - cosine * cosine) / 2.2;
        const double behind = 1.0 / std::sqrt(1.0 + k * halfWidthM * k * halfWidthM);
        const double back = cosine < 0.0 ? behind + (1.0 - behind) * (1.0 + cosine) * (1.0 + cosine) : 1.0;
        values[b] = back / (1.0 + across * across);
    }
    return values;
}

/** All images of one driver, each band by itself: the plain sum of complex exponentials. */
struct Oracle
{
    const RoomAcoustics& room;
    Vec3 microphone;

    std::complex<double> images(const Radiator& driver, std::size_t band, double f) const
    {
        std::complex<double> sum = 0.0;
        const int nx = static_cast<int>(room.reachMetres / room.size.depthM) + 2,
                  ny = static_cast<int>(room.reachMetres / room.size.widthM) + 2,
                  nz = static_cast<int>(room.reachMetres / room.size.heightM) + 2;
        for (int x = -nx; x <= nx; ++x)
            for (int y = -ny; y <= ny; ++y)
                for (int z = -nz; z <= nz; ++z)
                    sum += image(driver, x, y, z, band, f);
        return sum;
    }

    std::complex<double> image(const Radiator& driver, int x, int y, int z, std::size_t band, double f) const
    {
        const OneAxis ix = imageAfter(x, driver.place.x, driver.facing.x, room.size.depthM);
        const OneAxis iy = imageAfter(y, driver.place.y, driver.facing.y, room.size.widthM);
        const OneAxis iz = imageAfter(z, driver.place.z, driver.facing.z, room.size.heightM);
        const double reflected = std::pow(room.walls[band], std::abs(x) + std::abs(y)) *
                                 std::pow(room.floor[band], iz.first) *
                                 std::pow(room.ceiling[band], iz.second);
        const Vec3 place{ ix.place, iy.place, iz.place }, facing{ ix.facing, iy.facing, iz.facing };
        return reflected * arrival({ place, facing, driver.radiusM, driver.halfWidthM }, band, f);
    }

    /** The desk mirrors the driver; the shape of its strength is that of the model. */
    std::complex<double> fromDesk(const Radiator& driver, const DeskModel& desk, std::size_t band,
                                  double f) const
    {
        const double low = roomBandsHz[band] / 260.0, high = roomBandsHz[band] / 5200.0;
        const Vec3 mirrored{ driver.place.x, driver.place.y, 2.0 * desk.topHeightM - driver.place.z };
        return desk.strength * (low * low / (1.0 + low * low)) / (1.0 + high * high) *
               arrival({ mirrored, driver.facing, driver.radiusM, driver.halfWidthM }, band, f);
    }

    std::complex<double> arrival(const Radiator& from, std::size_t band, double f) const
    {
        const Vec3 away = microphone - from.place;
        const double distance = std::sqrt(away.x * away.x + away.y * away.y + away.z * away.z);
        if (distance >= room.reachMetres)
            return 0.0;
        const double cosine =
            (away.x * from.facing.x + away.y * from.facing.y + away.z * from.facing.z) / distance;
        const double left = std::min(1.0, (1.0 - distance / room.reachMetres) / 0.15);
        const double fade = left * left * (3.0 - 2.0 * left); // at the end of the reach
        return weights(cosine, from.radiusM, from.halfWidthM, room.speedMps)[band] * fade / distance *
               delayed(f, distance / room.speedMps);
    }
};
}

TEST_CASE("The floor bounce has its first dip where the worked example says, as deep as distance makes it")
{
    // Closed form, computed by an independent script: source and microphone 1.2 m high, 1.5 m apart: extra path 1.330194 m, first dip 129.00371 Hz,
    // -5.51450 dB.
    const PracticeRoom room(overAFloor(1.2, 1.0), 48000.0, 1);
    std::vector<double> around;
    for (double f = 120.0; f < 140.0; f += 0.01)
        around.push_back(f);
    const auto response = heard(room, around);
    std::size_t dip = 0;
    for (std::size_t i = 0; i < around.size(); ++i)
        dip = std::abs(response[i]) < std::abs(response[dip]) ? i : dip;
    CHECK(around[dip] == Approx(129.00371).margin(0.011));
    const double ratio = std::pow(10.0, -5.51449997972875 / 20.0);
    CHECK(decibels(std::abs(response[dip]) * 1.5) == Approx(decibels(1.0 - ratio)).margin(1e-3));
    const auto peak = heard(room, { 2.0 * 129.0037063677559 });
    CHECK(decibels(std::abs(peak[0]) * 1.5) == Approx(decibels(1.0 + ratio)).margin(1e-3));
}

TEST_CASE("Two arrivals have the peaks and dips of their level difference")
{
    struct Row
    {
        double differenceDb, peakDb, dipDb; // Closed form, computed by an independent script: two arrivals
    };

    const Row rows[] = {
        { 1, 5.534983129163744, -19.271489616766054 },    { 2, 5.078037820877345, -13.736506487602309 },
        { 3, 4.6494816137517265, -10.690730412317734 },   { 6, 3.5286972487297064, -6.0412487985660075 },
        { 10, 2.3866209613218916, -3.3017707725353946 },  { 20, 0.8278537032014622, -0.9151498112135024 },
        { 40, 0.08643747565285157, -0.08729610804900176 }
    };
    const double direct = 1.5, bounced = std::sqrt(1.5 * 1.5 + 0.6 * 0.6);
    const double dipHz = 343.2 / (2.0 * (bounced - direct));
    for (const Row& row : rows)
    {
        const double reflection = std::pow(10.0, -row.differenceDb / 20.0) * bounced / direct;
        const PracticeRoom room(overAFloor(0.3, reflection), 48000.0, 1);
        const auto response = heard(room, { dipHz, 2.0 * dipHz, 3.0 * dipHz, 6.0 * dipHz });
        INFO(row.differenceDb << " dB");
        CHECK(decibels(std::abs(response[0]) * direct) == Approx(row.dipDb).margin(0.003));
        CHECK(decibels(std::abs(response[1]) * direct) == Approx(row.peakDb).margin(0.001));
        CHECK(decibels(std::abs(response[2]) * direct) == Approx(row.dipDb).margin(0.003));
        CHECK(decibels(std::abs(response[3]) * direct) == Approx(row.peakDb).margin(0.001));
    }
}

TEST_CASE("A room that swallows little rings at the modes of its dimensions")
{
    // Closed form, computed by an independent script: 5.0 x 4.0 x 2.6 m, f = c/2 sqrt(sum (n/L)^2). From corner to corner every mode is heard. The
    // response ends after 1.2 s: peaks can be told to about 0.5 Hz, and 85.80 from 85.87 not at all.
    Scenario scenario = pointInTheOpen();
    scenario.studio.absorption = { everywhere(0.02), everywhere(0.02), everywhere(0.02) };
    scenario.placement = { 0.1, 1.0, 0.0, 0.1, 0.1 };
    scenario.microphone.seatM = { 4.9, 3.9, 2.5 };
    const PracticeRoom room(scenario, 8000.0, 1);
    const RealisedPath path = room.path(room.standing(0), RoomSide::left, room.position(0));
    for (double mode : { 34.32, 42.9, 54.9388, 66.0, 68.64, 74.3899, 78.7173, 80.9436, 85.84 })
    {
        std::vector<double> around;
        for (double f = mode - 1.0; f <= mode + 1.0; f += 0.02)
            around.push_back(f);
        const auto response = room.truth(path, around);
        std::size_t top = 0;
        for (std::size_t i = 0; i < around.size(); ++i)
            top = std::abs(response[i]) > std::abs(response[top]) ? i : top;
        INFO(mode << " Hz, found " << around[top]);
        CHECK(around[top] == Approx(mode).margin(0.3));
        const auto beside = room.truth(path, std::vector<double>{ mode - 1.2, mode + 1.2 });
        CHECK(std::abs(response[top]) > 1.4 * std::abs(beside[0]));
        CHECK(std::abs(response[top]) > 1.4 * std::abs(beside[1]));
    }
}

TEST_CASE("Each band holds all images and the desk as the slow sum has them, to 1e-4 of the rms")
{
    const Scenario scenario = furnishedRoom();
    const RoomAcoustics room = acousticsOf(scenario.studio);
    const Vec3 microphone = scenario.microphone.seatM + Vec3{ -0.2, 0.03, 0.01 };
    const Oracle oracle{ room, microphone };
    const ArrivalGrid grid{ 96000.0 / room.speedMps, 40.0 }; // twice 48 kHz
    for (CabinetOrientation orientation :
         { CabinetOrientation::upright, CabinetOrientation::sideTweetersOut })
    {
        const Cabinet cabinet = standCabinet({}, scenario.monitors[0], orientation, RoomSide::left);
        const Radiator driver{ cabinet.woofer, cabinet.facing, 0.060, 0.10 };
        const BandRange bands{ 2, 8 };
        BandPulses pulses(static_cast<std::size_t>(room.reachMetres * grid.pointsPerMetre) + 80,
                          bands.groups());
        gatherArrivals(room, driver, microphone, bands, grid, pulses);
        std::vector<double> band(pulses.points());
        for (std::size_t b : { 0u, 3u, 4u, 7u })
        {
            pulses.copyBand(b, band.data());
            const auto frequencies = logFrequencies(20.0, 20000.0, 23);
            const auto got = exactResponse(band, 96000.0, frequencies);
            double worst = 0.0, power = 0.0;
            for (std::size_t i = 0; i < frequencies.size(); ++i)
            {
                const double f = frequencies[i];
                const std::complex<double> want =
                    oracle.images(driver, bands.first + b, f) +
                    oracle.fromDesk(driver, *scenario.studio.desk, bands.first + b, f);
                const std::complex<double> pulse =
                    got[i] / (BandPulses::windowSpectrum(f / 96000.0) * delayed(f, 40.0 / 96000.0));
                worst = std::max(worst, std::abs(pulse - want));
                power += std::norm(want) / static_cast<double>(frequencies.size());
            }
            INFO("band " << b << ", worst over rms " << worst / std::sqrt(power));
            CHECK(worst < 1e-4 * std::sqrt(power));
            CHECK(worst > 0.0);
        }
    }
}

TEST_CASE("The realised response of a two-way is the slow sum through its filters, to 1e-4 of its rms")
{
    // Surfaces and drivers alike in all bands: then nothing rings before the first arrival (see
    // PracticeRoom::path).
    Scenario scenario = furnishedRoom();
    scenario.studio.absorption = { everywhere(0.5), everywhere(0.4), everywhere(0.7) };
    scenario.studio.desk.reset();
    MonitorModel& monitor = scenario.monitors[0];
    monitor.bumps.clear();
    monitor.rightLessLeft.clear();
    monitor.highOrder = 0;
    monitor.wooferRadiusM = monitor.tweeterRadiusM = monitor.cabinetWidthCm = 0.0;
    const PracticeRoom room(scenario, 48000.0, 1);
    const Oracle oracle{ room.acoustics(), room.position(1) };
    const auto frequencies = logFrequencies(20.0, 20000.0, 60);
    for (std::size_t stance : { 0u, 1u })
    {
        const Cabinet cabinet = room.standing(stance).cabinet(RoomSide::left);
        const auto got = heard(room, frequencies, stance, 1);
        double worst = 0.0, power = 0.0;
        for (std::size_t i = 0; i < frequencies.size(); ++i)
        {
            const double f = frequencies[i];
            const std::complex<double> s(0.0, f / monitor.crossoverHz), low(0.0, f / monitor.lowCornerHz);
            const std::complex<double> two = s * s + std::sqrt(2.0) * s + 1.0;
            const std::complex<double> fourth = // Butterworth, order 4: factors 0.7654 and 1.8478 (textbook)
                std::pow(low, 4) /
                ((low * low + 0.7653668647 * low + 1.0) * (low * low + 1.8477590650 * low + 1.0));
            const std::complex<double> woofer =
                                           oracle.images({ cabinet.woofer, cabinet.facing, 0.0, 0.0 }, 0, f),
                                       tweeter =
                                           oracle.images({ cabinet.tweeter, cabinet.facing, 0.0, 0.0 }, 0, f);
            const std::complex<double> want = fourth * (woofer + s * s * s * s * tweeter) / (two * two);
            worst = std::max(worst, std::abs(got[i] - want));
            power += std::norm(want) / static_cast<double>(frequencies.size());
        }
        INFO("worst over rms " << worst / std::sqrt(power));
        CHECK(worst < 1e-4 * std::sqrt(power));
        CHECK(worst > 0.0);
    }
}

TEST_CASE("A driver beams forwards and is quieter to the back, the more the higher the note")
{
    const auto levelBehind = [](double turnDegrees, double frequencyHz)
    {
        Scenario scenario = pointInTheOpen();
        scenario.monitors[0].wooferRadiusM = 0.06;
        scenario.monitors[0].cabinetWidthCm = 20.0;
        scenario.errors.cabinetTurnDegrees = 0.0;
        const PracticeRoom room(scenario, 48000.0, 1);
        Standing standing = room.standing(0);
        standing.cabinets[0].facing = turned({ 1.0, 0.0, 0.0 }, turnDegrees * std::numbers::pi / 180.0);
        const RealisedPath path = room.path(standing, RoomSide::left, room.position(0));
        return decibels(std::abs(room.truth(path, std::vector<double>{ frequencyHz })[0]) * 1.5);
    };
    CHECK(levelBehind(0.0, 8000.0) == Approx(0.0).margin(1e-3));
    // k r sin t = 2.2 where a piston, 2 J1(x) / x, is 6 dB down (textbook: x = 2.2): r = 6 cm, 4 kHz: 30.05
    // degrees.
    CHECK(levelBehind(30.05, 4000.0) == Approx(-6.02).margin(0.02));
    CHECK(levelBehind(180.0, 31.5) > -0.2);
    CHECK(levelBehind(180.0, 8000.0) < -20.0);
    CHECK(levelBehind(180.0, 1000.0) > levelBehind(180.0, 4000.0));
}
