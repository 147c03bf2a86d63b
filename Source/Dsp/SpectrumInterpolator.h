#pragma once

#include <complex>
#include <cstddef>
#include <span>

namespace plumbline
{

/** The spectrum of a finite response at any frequency, from the bins of a transform longer than the response.

    A response that lives in a part of the transform's time span is oversampled in frequency, so its spectrum
    between two bins is a short weighted sum of bins: a Kaiser-windowed sinc of 32 taps, flat to 1e-7 where
    the response lies within 0.35 of the length either side of `centreSamples`. */
class SpectrumInterpolator
{
public:
    /** @param bins spectrum of a transform of `length` points, k = 0 .. length/2; kept by reference
        @param centreSamples middle of the time span in which the response lives */
    SpectrumInterpolator(std::span<const std::complex<double>> bins, std::size_t length, double sampleRateHz,
                         double centreSamples);

    /** Spectrum at a frequency above 16 bins and below the last 16 bins; nearer the ends bins repeat as those
        of a real signal do. */
    std::complex<double> at(double frequencyHz) const noexcept;

private:
    std::complex<double> bin(long index) const noexcept;

    std::span<const std::complex<double>> bins;
    double length, binsPerHz, turnPerBin;
    std::complex<double> turn; ///< from one bin to the next
};

}
