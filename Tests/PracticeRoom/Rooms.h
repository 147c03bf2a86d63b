#pragma once

#include "PracticeRoom/PracticeRoom.h"

#include <complex>
#include <numbers>

namespace plumbline::test
{

inline BandValues everywhere(double value)
{
    BandValues values;
    values.fill(value);
    return values;
}

/** Surfaces that swallow everything: only the direct sound is left. */
inline SurfaceAbsorption swallowAll()
{
    return { everywhere(1.0), everywhere(1.0), everywhere(1.0) };
}

/** A point that sends the same everywhere, at every frequency. */
inline MonitorModel pointMonitor()
{
    MonitorModel monitor;
    monitor.name = "Point";
    monitor.kind = MonitorModel::Kind::single;
    monitor.cabinetWidthCm = 0.0;
    monitor.driverSpacingM = 0.0;
    monitor.wooferRadiusM = monitor.tweeterRadiusM = 0.0;
    monitor.crossoverHz = 0.0;
    monitor.lowOrder = monitor.highOrder = 0;
    return monitor;
}

/** One point, one microphone, nothing else: no walls, no noise, no errors. 1.5 m apart, both 1.2 m high. */
inline Scenario pointInTheOpen()
{
    Scenario scenario;
    scenario.name = "a point in the open";
    scenario.studio.size = { 5.0, 4.0, 2.6 };
    scenario.studio.absorption = swallowAll();
    scenario.placement = { 1.0, 1.0, 0.0, 1.2, 2.0 };
    scenario.monitors = { pointMonitor() };
    scenario.stances = { { "Point", CabinetOrientation::upright } };
    scenario.microphone.seatM = { 2.5, 2.0, 1.2 };
    scenario.errors = { 0.0, 0.0, 0.0 };
    return scenario;
}

/** A pair with all that a monitor has, in a well treated room with a desk, each surface and band of its
    own. */
inline Scenario furnishedRoom()
{
    Scenario scenario;
    scenario.name = "a furnished room";
    scenario.studio.size = { 5.2, 4.1, 2.7 };
    SurfaceAbsorption absorption;
    for (std::size_t b = 0; b < roomBandsHz.size(); ++b)
    {
        const double step = static_cast<double>(b);
        absorption.walls[b] = 0.45 + 0.02 * step;
        absorption.floor[b] = 0.35 + 0.05 * step;
        absorption.ceiling[b] = 0.90 - 0.03 * step;
    }
    scenario.studio.absorption = absorption;
    scenario.studio.desk = DeskModel{};
    MonitorModel monitor;
    monitor.name = "Heron 6";
    monitor.bumps = { { 820.0, 0.9, 2.2 }, { 3400.0, -1.1, 3.0 } };
    monitor.rightLessLeft = { { 1700.0, 0.6, 1.2 } };
    scenario.monitors = { monitor };
    for (CabinetOrientation orientation : cabinetOrientations)
        scenario.stances.push_back({ "Heron 6", orientation });
    scenario.microphone.positions = { { "ahead", -20.0, 0.0, 0.0 }, { "right", 0.0, 25.0, 5.0 } };
    return scenario;
}

inline std::vector<double> logFrequencies(double fromHz, double toHz, std::size_t count)
{
    std::vector<double> frequencies(count);
    for (std::size_t i = 0; i < count; ++i)
        frequencies[i] =
            fromHz * std::pow(toHz / fromHz, static_cast<double>(i) / static_cast<double>(count - 1));
    return frequencies;
}

inline std::complex<double> delayed(double frequencyHz, double seconds)
{
    return std::polar(1.0, -2.0 * std::numbers::pi * frequencyHz * seconds);
}

inline double decibels(double amplitude)
{
    return 20.0 * std::log10(amplitude);
}

inline double degrees(std::complex<double> value)
{
    return std::arg(value) * 180.0 / std::numbers::pi;
}

}
