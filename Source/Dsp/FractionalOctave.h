#pragma once

#include <cstddef>
#include <span>
#include <vector>

namespace plumbline
{

/** How wide the smoothing is: 1/N of an octave, or none at all. */
struct OctaveFraction
{
    int perOctave = 12; ///< N in 1..48; 0: no smoothing

    bool none() const noexcept { return perOctave == 0; }

    /** Lower edge of the window about a frequency: f 2^(-1/2N). */
    double lowEdge(double centreHz) const noexcept;
    /** Upper edge: f 2^(+1/2N). */
    double highEdge(double centreHz) const noexcept;

    bool operator==(const OctaveFraction&) const = default;
};

/** Means of a power spectrum over any interval of frequency, each in constant time.

    Power smoothing with a rectangular window on linear frequency, after Hatziantoniou and Mourjopoulos, JAES
    48 (2000) 259. It ignores delay, keeps a flat spectrum flat, and never leaves the range of what it
    averages. */
class BandPower
{
public:
    /** @param power |H|^2 at bins 0, 1, 2, ... of width `binHz` */
    BandPower(std::span<const double> power, double binHz);

    /** Mean power over lowHz..highHz; edge bins count in part. Frequencies beyond the spectrum are cut off.
        */
    double mean(double lowHz, double highHz) const noexcept;

private:
    double below(double bin) const noexcept;

    std::vector<double> running; ///< running[k]: sum of the bins below k
    double binHz;
};

/** The frequencies of every curve: 1000 2^(k/48) Hz, k whole, lowHz <= f <= highHz (a hair of rounding
    allowed). */
std::vector<double> curveFrequencies(double lowHz, double highHz);

}
