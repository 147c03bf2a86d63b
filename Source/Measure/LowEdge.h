#pragma once

#include "Measure/Deconvolution.h"

#include <complex>
#include <span>
#include <vector>

namespace plumbline
{

/** What lies under the sweep, so that a gate does not smear a hole into the lowest notes.

    A response that is cut off sharply under the sweep rings long before and after the sound itself; a gate cuts that ringing
    and so changes the level just above the cut. Here the response is continued to 0 Hz with the level and phase that
    it has at the sweep's lower edge. Nothing under the band is ever shown; this only keeps the band's own edge true. */
class LowEdge
{
public:
    /** Keeps the bins just above the lower edge of the excited range. */
    LowEdge(const SpectrumBuffer& transfer, const ExcitedRange& range, double sampleRateHz);

    /** Adds the continuation to a stretch of the impulse response.

        @param firstSample time of samples[0]
        @param arrivalSamples time of the first arrival, whose delay the continuation shares */
    void continueBelow(std::span<double> samples, double firstSample, double arrivalSamples) const;

private:
    std::vector<std::complex<double>> bins;
    std::size_t firstBin;
    double binHz, rate;
};

}
