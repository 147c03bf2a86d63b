#pragma once

#include "PracticeRoom/BandPulses.h"
#include "PracticeRoom/RoomAcoustics.h"

namespace plumbline
{

/** A driver: a point that beams forwards the more, the larger it is against the wavelength, and is quieter to
    the back.

    With k = 2 pi f / c and t the angle off its axis its amplitude is
        1 / (1 + (k r sin t / 2.2)^2),
    which is -6 dB where a piston of radius r is (2 J1(x) / x = 1/2 at x = 2.2); to the back (cos t < 0) times
        b + (1 - b) (1 + cos t)^2,  b = 1 / sqrt(1 + (k w)^2),  w half the cabinet's width. */
struct Radiator
{
    Vec3 place;
    Vec3 facing;
    double radiusM = 0.0;
    double halfWidthM = 0.0;
};

/** Which of roomBandsHz a driver is worked out for; the first and the last are held outside. */
struct BandRange
{
    std::size_t first = 0;
    std::size_t count = roomBandsHz.size();

    std::size_t groups() const { return (count + BandPulses::lanes - 1) / BandPulses::lanes; }
};

/** The grid that arrivals are written to: time in grid points = metres * pointsPerMetre + offsetPoints. */
struct ArrivalGrid
{
    double pointsPerMetre = 0.0;
    double offsetPoints = 0.0;
};

/** An image that is, in all bands of a group, this much weaker than an unhindered arrival from 1 m is left
    out. So little, because thousands of them add up in the bass: together they stay under 1e-4 of the
    response. */
inline constexpr double faintestImageDb = -140.0;

/** [any but audio] Adds the direct sound, all images of a rectangular room (Allen & Berkley, JASA 65 (1979)
    943) and the desk's reflection, as heard at `microphone`, each arrival 1/distance strong. `pulses` holds
    bands.groups() groups; its bands count from bands.first. */
void gatherArrivals(const RoomAcoustics& room, const Radiator& source, const Vec3& microphone,
                    BandRange bands, const ArrivalGrid& grid, BandPulses& pulses);

}
