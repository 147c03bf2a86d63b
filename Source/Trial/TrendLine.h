#pragma once

#include <cstddef>
#include <span>
#include <vector>

namespace plumbline
{

/** The straight line over octaves that fits levels best (least squares), and how far they stray from it. */
struct TrendLine
{
    double slopePerOctave = 0.0;
    double meanOctave = 0.0;
    double meanLevel = 0.0;
    double strayDb = 0.0; ///< root of the mean squared distance

    double at(double octave) const noexcept { return meanLevel + slopePerOctave * (octave - meanOctave); }
};

/** Unknown (NaN) where any level is, or where there are fewer than three. */
TrendLine trendLine(std::span<const double> octaves, std::span<const double> levelsDb);

/** Of the third-octave levels in these bands. */
TrendLine trendOf(const std::vector<double>& thirds, const std::vector<std::size_t>& bands);

}
