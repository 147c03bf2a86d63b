#pragma once

#include <array>
#include <optional>
#include <vector>

namespace plumbline
{

/** How much farther one of two drivers is than the other: spacing d, distance r from the middle between them, angle off
    the middle's normal, in the plane of the drivers. sqrt(r^2 + d^2/4 + r d sin) - sqrt(r^2 + d^2/4 - r d sin), in m;
    0 or more. */
double pathDifference(double spacingM, double distanceM, double offAxisDegrees);

/** The same from a place on one driver's axis: sqrt(r^2 + d^2) - r. */
double pathDifferenceOnDriverAxis(double spacingM, double distanceM);

/** Frequency at which two equal sounds cancel first, c / (2 difference). With a crossover the dip lies there only if the
    crossover does: see crossoverDip. */
double firstNullHz(double differenceM, double speedMps);

struct Dip
{
    double frequencyHz = 0.0;
    double depthDb = 0.0; ///< below 0

    bool operator==(const Dip&) const = default;
};

/** Two drivers whose paths to a place differ, with a Linkwitz-Riley crossover of fourth order (JAES 24 (1976) 2): both in
    step on the middle's normal. Off the axis the woofer beams as a piston, 2 J1(x) / x with x = 2 pi f a sin / c, which
    makes it weaker than the tweeter about the crossover and moves the dip down. */
struct DriverPair
{
    double crossoverHz = 0.0;
    double differenceM = 0.0;
    double speedMps = 343.2;
    double wooferRadiusM = 0.0; ///< 0: no beam
    double offAxisDegrees = 0.0;
};

/** A woofer's radius where only the cabinet's width is known: three tenths of it (common practice). */
double usualWooferRadiusM(double cabinetWidthM);

/** Level of the pair at a frequency against the same pair with equal paths, in dB. */
double driverPairDb(const DriverPair& drivers, double frequencyHz);

/** The deepest minimum of driverPairDb between 0.4 and 3 times the crossover; nothing if there is none. In the practice
    room the direct sound (4 ms) has it within 3 % and 3 dB where it is 6 to 12 dB deep. */
std::optional<Dip> crossoverDip(const DriverPair& drivers);

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

/** Path of the woofer less path of the tweeter in m, to a microphone so far to the right of, behind and above the seat
    (m). Below 0: the tweeter is the farther one. */
double driverPathDifference(const CabinetPlace& place, DriverOrientation orientation, double spacingM,
                            const std::array<double, 3>& microphoneM);

/** Angle off a cabinet's axis, from the middle between its drivers. */
double offAxisDegrees(const CabinetPlace& place, const std::array<double, 3>& microphoneM);

/** Path from the tweeter. */
double tweeterPath(const CabinetPlace& place, DriverOrientation orientation, double spacingM,
                   const std::array<double, 3>& microphoneM);

}
