#pragma once

#include "Measure/Deconvolution.h"

namespace plumbline
{

/** Fills the bins of a transfer function under the excited range, so that a gate does not smear a hole into
    the lowest notes.

    A response that is cut off sharply under the sweep rings long before and after the sound itself; a gate
    cuts that ringing and so changes the level just above the cut. Here the level is continued to 0 Hz as a
    power of frequency and the phase as a straight line, both fitted to the lowest 0.4 octave that was
    excited, which is under the band (the power held to 0 .. 8, a high-pass of order 8). That keeps a wire and
    a 45 Hz high-pass of order 4 true to 0.002 dB at 20 Hz with gates of 150 ms and more. Nothing under the
    band is ever shown; this only keeps the band's own edge true. */
void continueBelow(SpectrumBuffer& transfer, const ExcitedRange& range, double sampleRateHz);

}
