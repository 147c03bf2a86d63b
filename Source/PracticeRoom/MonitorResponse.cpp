#include "PracticeRoom/MonitorResponse.h"

#include "Core/Units.h"
#include "Dsp/AnalogFilters.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace plumbline
{

namespace
{
constexpr double longestRingSeconds = 0.6;
constexpr double quietDb = -80.0;

std::complex<double> bumped(const std::vector<ResponseBump>& bumps, double share, double frequencyHz)
{
    std::complex<double> response = 1.0;
    for (const ResponseBump& bump : bumps)
        response *= analogue::peak(frequencyHz, bump.frequencyHz, share * bump.levelDb, bump.q);
    return response;
}

std::complex<double> branch(const MonitorModel& monitor, Driver driver, double frequencyHz)
{
    if (monitor.crossoverHz == 0.0)
        return driver == Driver::woofer ? 1.0 : 0.0;
    return driver == Driver::woofer ? analogue::linkwitzRiley4LowPass(frequencyHz, monitor.crossoverHz)
                                    : analogue::linkwitzRiley4HighPass(frequencyHz, monitor.crossoverHz);
}

/** Seconds in which exp(-decay t) falls by 120 dB. */
double secondsOfDecay(double decayPerSecond)
{
    return std::min(longestRingSeconds, 6.0 * std::numbers::ln10 / decayPerSecond);
}

double ringOfBumps(const std::vector<ResponseBump>& bumps)
{
    double seconds = 0.0;
    for (const ResponseBump& bump : bumps)
    {
        // Poles of s^2 + s / (A Q) + 1, slowest when they are complex: decay pi f / (A Q).
        const double sharpness = bump.q * std::pow(10.0, std::abs(bump.levelDb) / 40.0);
        seconds =
            std::max(seconds, secondsOfDecay(std::numbers::pi * bump.frequencyHz / std::max(0.5, sharpness)));
    }
    return seconds;
}
}

std::complex<double> driverResponse(const MonitorModel& monitor, RoomSide side, Driver driver,
                                    double frequencyHz)
{
    const double unit = side == RoomSide::right ? 0.5 : -0.5;
    return amplitudeFromDecibels(monitor.trimDb) * branch(monitor, driver, frequencyHz) *
           analogue::butterworthHighPass(frequencyHz, monitor.lowCornerHz, monitor.lowOrder) *
           analogue::butterworthLowPass(frequencyHz, monitor.highCornerHz, monitor.highOrder) *
           bumped(monitor.bumps, 1.0, frequencyHz) * bumped(monitor.rightLessLeft, unit, frequencyHz);
}

BandRange bandsOf(const MonitorModel& monitor, Driver driver)
{
    const std::size_t last = roomBandsHz.size() - 1;
    const auto heard = [&](std::size_t b)
    {
        const double quiet = amplitudeFromDecibels(quietDb);
        const double below = roomBandsHz[b == 0 ? 0 : b - 1], above = roomBandsHz[std::min(last, b + 1)];
        return std::max(std::abs(branch(monitor, driver, below)), std::abs(branch(monitor, driver, above))) >
               quiet;
    };
    std::size_t first = 0, end = last + 1;
    while (first < last && !heard(first))
        ++first;
    while (end > first + 1 && !heard(end - 1))
        --end;
    return { first, end - first };
}

double ringSecondsOfHighPass(double cornerHz, int order)
{
    return secondsOfDecay(2.0 * std::numbers::pi * cornerHz *
                          std::sin(std::numbers::pi / (2.0 * std::max(1, order))));
}

double ringSeconds(const MonitorModel& monitor)
{
    double seconds = std::max(ringOfBumps(monitor.bumps), ringOfBumps(monitor.rightLessLeft));
    if (monitor.lowOrder > 0)
        seconds = std::max(seconds, ringSecondsOfHighPass(monitor.lowCornerHz, monitor.lowOrder));
    if (monitor.crossoverHz > 0.0)
        seconds = std::max(seconds, 2.0 * ringSecondsOfHighPass(monitor.crossoverHz, 2));
    return std::max(seconds, 0.01);
}

}
