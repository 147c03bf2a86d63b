#pragma once

#include "Measure/ImpulseResponse.h"
#include "Measure/Sweep.h"

namespace plumbline
{

/** Where the direct sound stands in a response. */
struct Arrival
{
    double samples = 0.0; ///< from time zero of the response, with sub-sample resolution
    int polarity = 1;     ///< sign of the response there
};

/** The first arrival: the first strong peak, between the samples, of the direct sound's upper range.

    The response's onset is where it first comes within 20 dB of its largest value (the onset rule of ISO
    3382-1, from memory). From there 3.5 ms are cut out and weighted over frequency with a Hann window (1.5 to
    20 kHz for a band to 20 kHz); of the peaks within 1 ms of the onset the first that is at least two thirds
    of the largest is taken (a bare wire's own pre-peak reaches 0.6; the right peak of a monitor with its
    crossover at 4 kHz and its roll-off at 18 kHz still 0.72).

    Taking the largest value of all instead is wrong by tens of milliseconds where a reflection is the
    stronger. Taking the peak of the whole range is wrong by samples in a two-way monitor, whose crossover
    adds a slow tail of the other sign, as high as the peak itself. Taking the largest peak of the upper range
    is wrong by half a period there, since crossover and upper roll-off delay its envelope by a sample. What
    is left of a two-way is within 8 microseconds of its tweeter's distance. Differences between like
    monitors, or takes, are exact.

    @param earliest, latest range of the search in samples; earliest may be negative
    @param band the band asked for, at whose upper end the weight is scaled */
Arrival firstArrival(const ImpulseResponse& response, std::ptrdiff_t earliest, std::ptrdiff_t latest,
                     Band band);

}
