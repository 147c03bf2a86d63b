#include "Trial/Geometry.h"

#include <cmath>
#include <complex>
#include <numbers>

namespace plumbline
{

namespace
{
double radians(double degrees)
{
    return degrees * std::numbers::pi / 180.0;
}

/** To the right of the seat, ahead of it, above it. */
using Place = std::array<double, 3>;

struct Drivers
{
    Place woofer, tweeter;
};

Drivers driversOf(const CabinetPlace& at, DriverOrientation orientation, double spacingM)
{
    // As if it stood on the right; the left one is its mirror image. Facing is (-sin, -cos), so outwards
    // along the baffle is (cos, -sin).
    const double turn = radians(at.toeInDegrees), half = 0.5 * spacingM;
    Place step{ 0.0, 0.0, half };
    if (orientation != DriverOrientation::upright)
    {
        const double way = orientation == DriverOrientation::tweeterOut ? half : -half;
        step = { way * std::cos(turn), -way * std::sin(turn), 0.0 };
    }
    Drivers drivers{ { at.asideM - step[0], at.aheadM - step[1], at.upM - step[2] },
                     { at.asideM + step[0], at.aheadM + step[1], at.upM + step[2] } };
    if (at.left)
    {
        drivers.woofer[0] = -drivers.woofer[0];
        drivers.tweeter[0] = -drivers.tweeter[0];
    }
    return drivers;
}

double distance(const Place& driver, const std::array<double, 3>& microphoneM)
{
    const auto [right, back, up] = microphoneM;
    return std::hypot(driver[0] - right, driver[1] + back, driver[2] - up);
}
}

double pathDifference(double spacingM, double distanceM, double offAxisDegrees)
{
    const double base = distanceM * distanceM + 0.25 * spacingM * spacingM;
    const double turn = distanceM * spacingM * std::sin(radians(std::abs(offAxisDegrees)));
    return std::sqrt(base + turn) - std::sqrt(base - turn);
}

double pathDifferenceOnDriverAxis(double spacingM, double distanceM)
{
    return std::hypot(distanceM, spacingM) - distanceM;
}

double firstNullHz(double differenceM, double speedMps)
{
    return speedMps / (2.0 * differenceM);
}

double usualWooferRadiusM(double cabinetWidthM)
{
    return 0.3 * cabinetWidthM;
}

namespace
{
/** 2 J1(x) / x by its series: x stays under 6 here. */
double pistonBeam(double x)
{
    double term = 1.0, sum = 1.0;
    for (int k = 1; k < 40; ++k)
    {
        term *= -0.25 * x * x / (k * (k + 1.0));
        sum += term;
    }
    return sum;
}
}

double directSoundDb(const DriverModel& model, const DriverPaths& paths, double frequencyHz)
{
    const std::complex<double> s(0.0, frequencyHz / model.crossoverHz);
    const auto fourth = s * s * s * s;
    const auto tweeter = fourth / (1.0 + fourth); // its share of the sum; both drivers are in step
    const double wave = 2.0 * std::numbers::pi * frequencyHz / model.speedMps;
    const double sine = std::sin(radians(paths.wooferOffAxisDegrees));
    const double beam = pistonBeam(std::min(6.0, wave * model.wooferRadiusM * sine));
    const auto late = std::polar(1.0, -wave * (paths.tweeterM - paths.wooferM));
    return 20.0 *
           std::log10(std::abs((1.0 - tweeter) * beam / paths.wooferM + tweeter * late / paths.tweeterM));
}

std::optional<Dip> crossoverDip(const DriverModel& model, const DriverPaths& paths,
                                const DriverPaths& against)
{
    constexpr int steps = 4000;
    const auto at = [&](double place) { return 0.4 * model.crossoverHz * std::pow(7.5, place / steps); };
    const auto level = [&](double place)
    { return directSoundDb(model, paths, at(place)) - directSoundDb(model, against, at(place)); };
    std::optional<Dip> deepest;
    double former = level(0), here = level(1);
    for (int i = 1; i < steps; ++i)
    {
        const double next = level(i + 1);
        if (here < former && here < next && (!deepest || here < deepest->depthDb))
        {
            const double bend = former - 2.0 * here + next; // parabola through the three
            const double off = bend > 0.0 ? 0.5 * (former - next) / bend : 0.0;
            deepest = Dip{ at(i + off), level(i + off) };
        }
        former = here;
        here = next;
    }
    return deepest && deepest->depthDb < -0.01 ? deepest : std::nullopt;
}

std::optional<Dip> crossoverDip(const DriverModel& model, double differenceM)
{
    constexpr double far = 1e6; // so far that levels are equal
    return crossoverDip(model, { far + differenceM, far, 0.0 }, { far, far, 0.0 });
}

ArrivalRipple rippleOf(double levelDifferenceDb)
{
    const double a = std::pow(10.0, -std::abs(levelDifferenceDb) / 20.0);
    return { 20.0 * std::log10(1.0 + a), 20.0 * std::log10(1.0 - a) };
}

Bounce bounceOf(double sourceHeightM, double microphoneHeightM, double apartM, double speedMps, double upToHz)
{
    const double direct = std::hypot(apartM, sourceHeightM - microphoneHeightM);
    const double bounced = std::hypot(apartM, sourceHeightM + microphoneHeightM);
    Bounce bounce;
    bounce.extraPathM = bounced - direct;
    bounce.delayMs = 1000.0 * bounce.extraPathM / speedMps;
    bounce.levelDb = 20.0 * std::log10(direct / bounced);
    for (double hz = firstNullHz(bounce.extraPathM, speedMps); hz <= upToHz;
         hz += speedMps / bounce.extraPathM)
        bounce.dipsHz.push_back(hz);
    return bounce;
}

namespace
{
/** Angle between a cabinet's facing and the way to a microphone from one of its drivers. */
double offAxisDegrees(const CabinetPlace& at, const Place& driver, const std::array<double, 3>& microphoneM)
{
    const auto [right, back, up] = microphoneM;
    const double way[3] = { right - driver[0], -back - driver[1], up - driver[2] };
    const double turn = radians(at.toeInDegrees);
    const double facing[3] = { at.left ? std::sin(turn) : -std::sin(turn), -std::cos(turn), 0.0 };
    double product = 0.0, square = 0.0;
    for (int i = 0; i < 3; ++i)
    {
        product += way[i] * facing[i];
        square += way[i] * way[i];
    }
    return std::acos(std::min(1.0, product / std::sqrt(square))) * 180.0 / std::numbers::pi;
}
}

DriverPaths driverPaths(const CabinetPlace& place, DriverOrientation orientation, double spacingM,
                        const std::array<double, 3>& microphoneM)
{
    const auto drivers = driversOf(place, orientation, spacingM);
    return { distance(drivers.woofer, microphoneM), distance(drivers.tweeter, microphoneM),
             offAxisDegrees(place, drivers.woofer, microphoneM) };
}

}
