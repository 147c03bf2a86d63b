#include "PracticeRoom/ImageSources.h"

#include "Core/Units.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace plumbline
{

namespace
{
constexpr std::size_t width = BandPulses::mostGroups * BandPulses::lanes;
constexpr double fadeShare = 0.15; ///< of the reach, before its end

/** One value for each band in use, padded with zeros. */
struct alignas(16) Row
{
    float at[width] = {};
};

Row rowOf(const BandValues& values, BandRange bands)
{
    Row row;
    for (std::size_t i = 0; i < bands.count; ++i)
        row.at[i] = static_cast<float>(values[bands.first + i]);
    return row;
}

Row product(const Row& a, const Row& b)
{
    Row row;
    for (std::size_t i = 0; i < width; ++i)
        row.at[i] = a.at[i] * b.at[i];
    return row;
}

/** Powers 0, 1, .. `most` of each band's reflection. */
std::vector<Row> powersOf(const BandValues& amplitude, BandRange bands, std::size_t most)
{
    BandValues ones;
    ones.fill(1.0);
    std::vector<Row> powers{ rowOf(ones, bands) };
    const Row factor = rowOf(amplitude, bands);
    while (powers.size() <= most)
        powers.push_back(product(powers.back(), factor));
    return powers;
}

float strongest(const Row& row)
{
    return *std::max_element(row.at, row.at + width);
}

/** What an image's own place does not change. */
struct Directivity
{
    Row behind, rest, beam;

    Directivity(const Radiator& source, double speedMps, BandRange bands)
    {
        for (std::size_t i = 0; i < bands.count; ++i)
        {
            const double k = 2.0 * std::numbers::pi * roomBandsHz[bands.first + i] / speedMps;
            const double back = 1.0 / std::hypot(1.0, k * source.halfWidthM);
            behind.at[i] = static_cast<float>(back);
            rest.at[i] = static_cast<float>(1.0 - back);
            beam.at[i] = static_cast<float>(k * source.radiusM / 2.2 * (k * source.radiusM / 2.2));
        }
    }
};

class Gatherer
{
public:
    Gatherer(const RoomAcoustics& acoustics, const Radiator& radiator, const Vec3& listener, BandRange range,
             const ArrivalGrid& arrivalGrid, BandPulses& pulseTrains)
        : room(acoustics), source(radiator), microphone(listener), bands(range), grid(arrivalGrid),
          pulses(pulseTrains), directivity(radiator, acoustics.speedMps, range), groups(range.groups()),
          fadeFrom(acoustics.reachMetres * (1.0 - fadeShare)),
          faintest(static_cast<float>(amplitudeFromDecibels(faintestImageDb)))
    {
        const double smallest = std::min({ room.size.depthM, room.size.widthM, room.size.heightM });
        const auto most = static_cast<std::size_t>(room.reachMetres / smallest) + 4;
        walls = powersOf(room.walls, bands, most);
        floor = powersOf(room.floor, bands, most);
        ceiling = powersOf(room.ceiling, bands, most);
    }

    void gatherImages()
    {
        const int most = cellsWithin(room.size.heightM);
        for (int flip = 0; flip < 2; ++flip)
            for (int cell = -most; cell <= most; ++cell)
            {
                // Reflections on the floor: |cell - flip|; on the ceiling: |cell| (Allen & Berkley, their
                // equation 10).
                const Row surfaces = product(floor[magnitude(cell - flip)], ceiling[magnitude(cell)]);
                const double away = microphone.z - imageAt(source.place.z, room.size.heightM, flip, cell);
                if (std::abs(away) < room.reachMetres)
                    gatherLayer(surfaces, away, flip == 0 ? source.facing.z : -source.facing.z);
            }
    }

    /** The mirror image in the desk top, if sound from the driver meets the desk on its way; it fades in
        over 5 cm at the desk's edges. */
    void gatherDesk(const DeskModel& desk)
    {
        const double above = source.place.z - desk.topHeightM, below = microphone.z - desk.topHeightM;
        if (above <= 0.0 || below <= 0.0)
            return;
        const Vec3 met = source.place + (microphone - source.place) * (above / (above + below));
        const double inside =
            std::min({ met.x - desk.fromXM, desk.toXM - met.x, met.y - desk.fromYM, desk.toYM - met.y });
        const double share = std::clamp(inside / 0.05 + 0.5, 0.0, 1.0);
        if (share == 0.0)
            return;
        const Vec3 away{ microphone.x - source.place.x, microphone.y - source.place.y, above + below };
        const Vec3 facing{ source.facing.x, source.facing.y, -source.facing.z };
        const double distance = length(away);
        addArrival(distance, dot(away, facing) / distance, rowOf(room.deskGain, bands), walls[0],
                   static_cast<float>(share));
    }

private:
    static std::size_t magnitude(int n) { return static_cast<std::size_t>(n < 0 ? -n : n); }

    static double imageAt(double place, double size, int flip, int cell)
    {
        return (flip == 0 ? place : -place) + 2.0 * cell * size;
    }

    int cellsWithin(double size) const { return static_cast<int>(room.reachMetres / (2.0 * size)) + 1; }

    void gatherLayer(const Row& surfaces, double awayZ, double facingZ)
    {
        const int most = cellsWithin(room.size.widthM);
        for (int flip = 0; flip < 2; ++flip)
            for (int cell = -most; cell <= most; ++cell)
            {
                const Row reflected = product(surfaces, walls[magnitude(2 * cell - flip)]);
                const double awayY = microphone.y - imageAt(source.place.y, room.size.widthM, flip, cell);
                const double square = awayY * awayY + awayZ * awayZ;
                if (square >= room.reachMetres * room.reachMetres ||
                    strongest(reflected) < faintest * static_cast<float>(std::sqrt(square)))
                    continue;
                const double facingY = flip == 0 ? source.facing.y : -source.facing.y;
                gatherLine(reflected, square, awayY * facingY + awayZ * facingZ);
            }
    }

    /** All images along x. `square`: of their distance across x; `across`: that part of away . facing. */
    void gatherLine(const Row& reflected, double square, double across)
    {
        const double reach = std::sqrt(room.reachMetres * room.reachMetres - square);
        const double period = 2.0 * room.size.depthM;
        for (int flip = 0; flip < 2; ++flip)
        {
            const double first = microphone.x - (flip == 0 ? source.place.x : -source.place.x);
            const double facingX = flip == 0 ? source.facing.x : -source.facing.x;
            const int from = static_cast<int>(std::ceil((first - reach) / period));
            const int to = static_cast<int>(std::floor((first + reach) / period));
            for (int cell = from; cell <= to; ++cell)
            {
                const double away = first - period * cell;
                const double distance = std::sqrt(away * away + square);
                addArrival(distance, (away * facingX + across) / distance, reflected,
                           walls[magnitude(2 * cell - flip)], fadeAt(distance));
            }
        }
    }

    float fadeAt(double distance) const
    {
        if (distance <= fadeFrom)
            return 1.0f;
        const double left = std::max(0.0, (room.reachMetres - distance) / (room.reachMetres - fadeFrom));
        return static_cast<float>(left * left * (3.0 - 2.0 * left));
    }

    void addArrival(double distance, double cosine, const Row& reflected, const Row& more, float share)
    {
        const float strength = share / static_cast<float>(distance);
        const auto ahead = static_cast<float>(cosine);
        const float sineSquare = std::max(0.0f, 1.0f - ahead * ahead);
        const float shoulder = 1.0f + std::min(0.0f, ahead);
        const float back = shoulder * shoulder;
        BandPulses::Weights weights;
        bool placed = false;
        for (std::size_t group = 0; group < groups; ++group)
        {
            const std::size_t base = group * BandPulses::lanes;
            alignas(16) float gains[BandPulses::lanes];
            for (std::size_t i = 0; i < BandPulses::lanes; ++i)
            {
                const std::size_t b = base + i;
                gains[i] = strength * reflected.at[b] * more.at[b] *
                           (directivity.behind.at[b] + directivity.rest.at[b] * back) /
                           (1.0f + directivity.beam.at[b] * sineSquare);
            }
            if (std::max(std::max(gains[0], gains[1]), std::max(gains[2], gains[3])) < faintest)
                continue;
            if (!placed)
                weights = BandPulses::weightsAt(distance * grid.pointsPerMetre + grid.offsetPoints);
            placed = true;
            pulses.add(group, weights, gains);
        }
    }

    const RoomAcoustics& room;
    const Radiator& source;
    const Vec3 microphone;
    const BandRange bands;
    const ArrivalGrid grid;
    BandPulses& pulses;
    const Directivity directivity;
    const std::size_t groups;
    const double fadeFrom;
    const float faintest;
    std::vector<Row> walls, floor, ceiling;
};
}

void gatherArrivals(const RoomAcoustics& room, const Radiator& source, const Vec3& microphone,
                    BandRange bands, const ArrivalGrid& grid, BandPulses& pulses)
{
    Gatherer gatherer(room, source, microphone, bands, grid, pulses);
    gatherer.gatherImages();
    if (room.desk)
        gatherer.gatherDesk(*room.desk);
}

}
