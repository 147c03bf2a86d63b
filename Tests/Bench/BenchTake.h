#pragma once

#include "Dsp/Fft.h"
#include "Measure/TakeAnalysis.h"

#include <vector>

namespace plumbline::bench
{

/** A pair's stimulus at 48 kHz whose every segment (sweep and silence) is exactly 2^19 samples long. */
Stimulus exactStimulus();

/** A take of it: a direct sound and a decaying diffuse tail a side, white noise 37 dB under the sweep, a
    loopback 64 samples late. The tail falls by 60 dB in `t60Seconds`, from 14 dB under the direct sound's
    energy. */
Capture roomCapture(const Stimulus& stimulus, double t60Seconds);

/** Length of the transform that an analysis with an automatic window took for its gate, from its result. */
std::size_t gatedLength(const TakeAnalysis& analysis, const Stimulus& stimulus);

/** The transforms of an analysis and nothing else: in place, with the very plans that the analysis uses. For
    each of two sides: reference and microphone forward, response back (2^19 points), gated response forward.
    */
class BareTransforms
{
public:
    BareTransforms(const Capture& capture, std::size_t gatedLength);

    /** Fills the buffers anew, which run() overwrites. Not to be timed. */
    void refill();
    void run();

private:
    struct Side
    {
        SpectrumBuffer reference, microphone, gated;
    };

    const Capture& capture;
    std::vector<Side> sides;
};

}
