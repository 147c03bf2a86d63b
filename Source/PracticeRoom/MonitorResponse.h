#pragma once

#include "PracticeRoom/ImageSources.h"
#include "PracticeRoom/Standing.h"

#include <complex>

namespace plumbline
{

enum class Driver
{
    woofer,
    tweeter
};

/** [any] One driver's electrical and acoustical response on its axis at 1 m: crossover, corners, bumps, the
    unit's own difference, trim. A monitor without crossover has a woofer alone, and its tweeter is silent. */
std::complex<double> driverResponse(const MonitorModel& monitor, RoomSide side, Driver driver,
                                    double frequencyHz);

/** [any] The bands in which a driver is heard: those that touch where the crossover leaves it above -80 dB.
 */
BandRange bandsOf(const MonitorModel& monitor, Driver driver);

/** [any] After this long the slowest part of the monitor's filters has rung down by 120 dB (at most 0.6 s).
 */
double ringSeconds(const MonitorModel& monitor);

/** [any] The same of a Butterworth high-pass. */
double ringSecondsOfHighPass(double cornerHz, int order);

}
