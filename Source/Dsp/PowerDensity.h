#pragma once

#include "Dsp/FractionalOctave.h"

#include <optional>
#include <span>
#include <vector>

namespace plumbline
{

/** One-sided power density of a stretch of noise over frequency, in signal units squared per Hz.

    Welch's method (IEEE Trans. Audio Electroacoust. 15 (1967) 70): Hann windows, half overlapped, each a
    third of the stretch, the mean of each taken off. */
class PowerDensity
{
public:
    /** @param noise at least 64 samples; fewer, or silence, gives a density of zero everywhere */
    PowerDensity(std::span<const float> noise, double sampleRateHz);

    /** Density at a frequency, linear between the bins; held beyond the first and last. */
    double at(double frequencyHz) const noexcept;

    /** Mean density over an interval; over at least one bin. Averaging over the width of interest is what
        makes the estimate steady: a single bin scatters by a third. */
    double mean(double lowHz, double highHz) const noexcept;

    /** True if every sample was exactly zero (or there were too few to tell). */
    bool none() const noexcept { return silent; }

private:
    std::vector<double> density;
    std::optional<BandPower> bands;
    double binHz = 1.0;
    bool silent = true;
};

}
