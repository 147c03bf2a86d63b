#pragma once

#include <complex>
#include <span>
#include <vector>

namespace plumbline
{

/** [any] The transform of real taps at single frequencies, sum h[n] exp(-j 2 pi f n / rate), by direct
    summation and not by any fast transform: the error is about 1e-15 of the sum of the taps' magnitudes.

    @param frequenciesHz any, from 0 to half the rate */
std::vector<std::complex<double>> exactResponse(std::span<const double> taps, double sampleRateHz,
                                                std::span<const double> frequenciesHz);

}
