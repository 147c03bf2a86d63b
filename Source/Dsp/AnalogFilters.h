#pragma once

#include <complex>

namespace plumbline
{

/** Complex frequency responses of analogue prototypes: what a filter does at one frequency, with no sample
    rate.

    [any] All are pure functions of s = j f / f0, minimum phase, and hold for every frequency >= 0 and
    corner > 0. Butterworth: poles on the unit circle (S. Butterworth, 1930). Linkwitz-Riley of order 4: two
    Butterworths of order 2 in a row (Linkwitz, JAES 24 (1976) 2); low and high add up to an all-pass of
    order 2. Shelves and peak: the analogue prototypes of the W3C Note "Audio EQ Cookbook". Exact to
    rounding. */
namespace analogue
{

/** `order` >= 0; -3.01 dB at the corner. Order 0 is a wire. */
std::complex<double> butterworthLowPass(double frequencyHz, double cornerHz, int order);
std::complex<double> butterworthHighPass(double frequencyHz, double cornerHz, int order);

/** -6.02 dB at the crossover, both branches in phase everywhere. */
std::complex<double> linkwitzRiley4LowPass(double frequencyHz, double crossoverHz);
std::complex<double> linkwitzRiley4HighPass(double frequencyHz, double crossoverHz);

/** First order: `levelDb` far below (low) or far above (high), half of it in dB at the centre, 0 dB at the
    other end. */
std::complex<double> firstOrderLowShelf(double frequencyHz, double centreHz, double levelDb);
std::complex<double> firstOrderHighShelf(double frequencyHz, double centreHz, double levelDb);

/** Second order, quality `q` (0.7071 is the steepest without overshoot); half of `levelDb` at the centre. */
std::complex<double> secondOrderLowShelf(double frequencyHz, double centreHz, double levelDb, double q);
std::complex<double> secondOrderHighShelf(double frequencyHz, double centreHz, double levelDb, double q);

/** A bump or a dip of `levelDb` at the centre, with no phase there; 0 dB far away. */
std::complex<double> peak(double frequencyHz, double centreHz, double levelDb, double q);

}

}
