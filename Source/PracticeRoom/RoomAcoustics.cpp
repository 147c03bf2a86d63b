#include "PracticeRoom/RoomAcoustics.h"

#include "Core/Units.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace plumbline
{

namespace
{
constexpr double longestReachSeconds = 1.2;
constexpr double floorOverWalls = 4.0 / 3.0;

struct Surfaces
{
    double walls, floorAndCeiling, volume;

    double all() const { return walls + floorAndCeiling; }
};

Surfaces surfacesOf(const RoomSize& size)
{
    const double level = size.depthM * size.widthM;
    return { 2.0 * size.heightM * (size.depthM + size.widthM), 2.0 * level, level * size.heightM };
}

/** 24 ln 10 V / (c S): the decay time of a room that swallows 1 - 1/e at each reflection. */
double eyringSeconds(const RoomSize& size, double speedMps)
{
    const Surfaces surfaces = surfacesOf(size);
    return 24.0 * std::numbers::ln10 * surfaces.volume / (speedMps * surfaces.all());
}

SurfaceAbsorption absorptionFor(const BandValues& t60Seconds, const RoomSize& size, double speedMps)
{
    const Surfaces surfaces = surfacesOf(size);
    SurfaceAbsorption absorption;
    for (std::size_t b = 0; b < t60Seconds.size(); ++b)
    {
        const double mean = 1.0 - std::exp(-eyringSeconds(size, speedMps) / t60Seconds[b]);
        const double walls =
            mean * surfaces.all() / (surfaces.walls + floorOverWalls * surfaces.floorAndCeiling);
        absorption.walls[b] = std::min(1.0, walls);
        absorption.floor[b] = absorption.ceiling[b] = std::min(1.0, floorOverWalls * walls);
    }
    return absorption;
}

BandValues decayOf(const SurfaceAbsorption& absorption, const RoomSize& size, double speedMps)
{
    const Surfaces surfaces = surfacesOf(size);
    BandValues seconds{};
    for (std::size_t b = 0; b < seconds.size(); ++b)
    {
        const double mean = (absorption.walls[b] * surfaces.walls +
                             (absorption.floor[b] + absorption.ceiling[b]) / 2.0 * surfaces.floorAndCeiling) /
                            surfaces.all();
        if (mean <= 0.0)
            seconds[b] = std::numeric_limits<double>::infinity();
        else if (mean < 1.0)
            seconds[b] = -eyringSeconds(size, speedMps) / std::log1p(-mean);
    }
    return seconds;
}
}

double deskShape(double frequencyHz)
{
    const double low = frequencyHz / 260.0, high = frequencyHz / 5200.0;
    return (1.0 - 1.0 / (1.0 + low * low)) / (1.0 + high * high);
}

RoomAcoustics acousticsOf(const Studio& studio)
{
    RoomAcoustics room;
    room.size = studio.size;
    room.speedMps = speedOfSound(studio.temperatureC);
    room.desk = studio.desk;
    const SurfaceAbsorption absorption =
        studio.absorption ? *studio.absorption : absorptionFor(*studio.t60Seconds, room.size, room.speedMps);
    for (std::size_t b = 0; b < roomBandsHz.size(); ++b)
    {
        room.walls[b] = std::sqrt(1.0 - absorption.walls[b]);
        room.floor[b] = std::sqrt(1.0 - absorption.floor[b]);
        room.ceiling[b] = std::sqrt(1.0 - absorption.ceiling[b]);
        room.deskGain[b] = studio.desk ? studio.desk->strength * deskShape(roomBandsHz[b]) : 0.0;
    }
    room.t60Seconds = decayOf(absorption, room.size, room.speedMps);
    const double longest = *std::max_element(room.t60Seconds.begin(), room.t60Seconds.end());
    const double diagonal = length({ room.size.depthM, room.size.widthM, room.size.heightM });
    room.reachMetres = std::max(1.2 * diagonal, room.speedMps * std::min(longest, longestReachSeconds));
    return room;
}

}
