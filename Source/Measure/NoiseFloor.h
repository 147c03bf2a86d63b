#pragma once

#include "Dsp/FractionalOctave.h"
#include "Dsp/PowerDensity.h"
#include "Measure/Deconvolution.h"

namespace plumbline
{

/** What noise does to a response, predicted from the lead-in.

    Noise N in the capture is an error N / X in the response, evenly spread over the response's time. A gate
    lets through its share of it. */
class NoiseFloor
{
public:
    struct Inputs
    {
        const PowerDensity* microphone; ///< of the lead-in
        const PlayedSpectrum* played;
        std::size_t segmentSamples; ///< samples of the capture that were transformed
        double sampleRateHz;
    };

    /** @param shareKept share of the response's whole time that is looked at: gate energy / transform length,
        or 1 */
    NoiseFloor(const Inputs& inputs, double shareKept);

    /** Mean of |N / X|^2 over the smoothing window about a frequency. */
    double errorPower(double frequencyHz, OctaveFraction smoothing) const noexcept;

    /** Expected square of the noise a sample of the ungated response, over the band lowHz..highHz. */
    double powerPerSample(double lowHz, double highHz) const noexcept;

    /** True if the lead-in held no noise at all. */
    bool none() const noexcept { return in.microphone->none(); }

private:
    double errorPowerOver(double lowHz, double highHz) const noexcept;

    Inputs in;
    double share;
};

/** Predicted standard deviation, in dB, of a smoothed level.

    |H + E|^2 is disturbed by 2 Re(H* E), variance 2 |H|^2 e, and by |E|^2, which scatters by its own mean e;
    both are averaged over the independent values in the window: bandwidth x time looked at.

    @param power |H|^2 with the noise taken off; at or below 0 gives infinity
    @param errorPower e, mean |N / X|^2
    @param independentValues at least 1 is used */
double levelDeviationDb(double power, double errorPower, double independentValues) noexcept;

}
