#pragma once

#include <cmath>
#include <limits>

namespace plumbline
{

/** 20 lg of an amplitude ratio; minus infinity for zero. */
inline double decibelsFromAmplitude(double ratio)
{
    return 20.0 * std::log10(ratio);
}

/** 10 lg of a power ratio; minus infinity for zero. */
inline double decibelsFromPower(double ratio)
{
    return 10.0 * std::log10(ratio);
}

inline double amplitudeFromDecibels(double decibels)
{
    return std::pow(10.0, decibels / 20.0);
}

/** Speed of sound in air in m/s: c = 343.2 sqrt((t + 273.15) / 293.15), ISO 9613-1:1993 (from memory of the
    standard; holds for ordinary room temperatures). */
inline double speedOfSound(double temperatureC)
{
    return 343.2 * std::sqrt((temperatureC + 273.15) / 293.15);
}

inline double degreesFromRadians(double radians)
{
    return radians * (180.0 / 3.14159265358979323846);
}

}
