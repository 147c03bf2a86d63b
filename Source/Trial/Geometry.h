#pragma once

#include <array>
#include <optional>
#include <vector>

namespace plumbline
{

/** How much farther one of two drivers is than the other: spacing d, distance r from the middle between
    them, angle off the middle's normal, in the plane of the drivers. sqrt(r^2 + d^2/4 + r d sin) -
    sqrt(r^2 + d^2/4 - r d sin), in m; 0 or more. */
double pathDifference(double spacingM, double distanceM, double offAxisDegrees);

/** The same from a place on one driver's axis: sqrt(r^2 + d^2) - r. */
double pathDifferenceOnDriverAxis(double spacingM, double distanceM);

/** Frequency at which two equal sounds cancel first, c / (2 difference). With a crossover the dip lies
    there only if the crossover does: see crossoverDip. */
double firstNullHz(double differenceM, double speedMps);

struct Dip
{
    double frequencyHz = 0.0;
    double depthDb = 0.0; ///< below 0

    bool operator==(const Dip&) const = default;
};

/** The way of each driver's sound to a place. */
struct DriverPaths
{
    double wooferM = 1.0;
    double tweeterM = 1.0;
    double wooferOffAxisDegrees = 0.0;

    double differenceM() const noexcept
    {
        return wooferM > tweeterM ? wooferM - tweeterM : tweeterM - wooferM;
    }
};

/** A two-way monitor with a Linkwitz-Riley crossover of fourth order (JAES 24 (1976) 2), its drivers in
    step. Each driver falls with distance; the woofer beams as a piston, 2 J1(x) / x with x = 2 pi f a sin
    / c, which off its axis makes it the weaker one about the crossover and moves the dip down. */
struct DriverModel
{
    double crossoverHz = 0.0;
    double speedMps = 343.2;
    double wooferRadiusM = 0.0; ///< 0: no beam
};

/** A woofer's radius where only the cabinet's width is known: three tenths of it (common practice). */
double usualWooferRadiusM(double cabinetWidthM);

/** Level of the monitor's direct sound at a frequency, in dB re its woofer alone from 1 m far under the
    crossover. */
double directSoundDb(const DriverModel& model, const DriverPaths& paths, double frequencyHz);

/** The deepest minimum, between 0.4 and 3 times the crossover, of the direct sound by one way less that by
    another (the same monitor upright); nothing if there is none. In the practice room the direct sound (4
    ms) has it within 3 % and 3 dB where it is 6 to 12 dB deep. */
std::optional<Dip> crossoverDip(const DriverModel& model, const DriverPaths& paths,
                                const DriverPaths& against);

/** Two ways that differ by so much and are alike else, against equal ones. */
std::optional<Dip> crossoverDip(const DriverModel& model, double differenceM);

/** What a second arrival, weaker by so many dB, does at most: peak 20 lg(1 + a) and dip 20 lg(1 - a). */
struct ArrivalRipple
{
    double peakDb = 0.0;
    double dipDb = 0.0; ///< minus infinity for equal levels
};

ArrivalRipple rippleOf(double levelDifferenceDb);

/** A reflection from a level surface: source and microphone so high above it, so far apart along it. */
struct Bounce
{
    double extraPathM = 0.0;
    double delayMs = 0.0;
    double levelDb = 0.0;       ///< against the direct sound, by distance alone
    std::vector<double> dipsHz; ///< (2k + 1) / (2 delay), below the limit asked for
};

Bounce bounceOf(double sourceHeightM, double microphoneHeightM, double apartM, double speedMps,
                double upToHz);

enum class DriverOrientation
{
    upright,
    tweeterOut,
    tweeterIn
};

/** Where a cabinet stands as seen from the seat. */
struct CabinetPlace
{
    bool left = true;
    double asideM = 0.0;       ///< from the line of symmetry, to its own side
    double aheadM = 0.0;       ///< in front of the seat
    double upM = 0.0;          ///< middle between the drivers over the microphone
    double toeInDegrees = 0.0; ///< turned towards the line of symmetry
};

/** Ways to a microphone so far to the right of, behind and above the seat (m). */
DriverPaths driverPaths(const CabinetPlace& place, DriverOrientation orientation, double spacingM,
                        const std::array<double, 3>& microphoneM);

}
