#pragma once

#include "Dsp/Fft.h"
#include "Measure/Sweep.h"

#include <memory>
#include <span>

namespace plumbline
{

/** The frequencies over which a sweep can be divided by: from where it has begun to rise out of its fade to
    its end. */
struct ExcitedRange
{
    double lowHz;   ///< below: not excited, response set to zero
    double taperHz; ///< from here a half-cosine in frequency leads to zero at highHz
    double highHz;
};

ExcitedRange excitedRange(const Sweep& sweep, Band band) noexcept;

/** Spectrum of what was played (or came back through the loopback), ready to divide by; made once a side, or
    once for both where both were played alike. */
class PlayedSpectrum
{
public:
    /** @param played at most `transformLength` samples
        @param offset taken off each sample: the converter's own direct voltage */
    PlayedSpectrum(std::span<const float> played, std::size_t transformLength, double offset = 0.0);

    const std::complex<double>* bins() const noexcept { return spectrum.bins(); }

    std::size_t length() const noexcept { return spectrum.length(); }

    /** |X|^2 at the bin nearest to a frequency. */
    double power(double frequencyHz, double sampleRateHz) const noexcept;

    /** The largest |X|^2 of all bins. */
    double peakPower() const noexcept { return peak; }

private:
    SpectrumBuffer spectrum;
    double peak;
};

/** Response by regularised division, H = Y X* / (|X|^2 + b), b = 1e-10 of the peak power.

    Dividing by the sweep really played and not by its analytic inverse is what keeps the band's edges true:
    see Mueller and Massarani, JAES 49 (2001) 443. Both signals must lie whole within the transform's length,
    so that the circular transform is a linear one: then each bin is the transfer function at exactly its
    frequency, without leakage. Zero outside the excited range.

    @param offset taken off each captured sample
    @return H at bins 0 .. length/2 */
SpectrumBuffer deconvolve(std::span<const float> captured, const PlayedSpectrum& played, double sampleRateHz,
                          const ExcitedRange& range, double offset = 0.0);

}
