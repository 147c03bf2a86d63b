#pragma once

#include "Core/Result.h"

#include <cstddef>
#include <vector>

namespace plumbline
{

/** A range of frequency. */
struct Band
{
    double fromHz = 20.0;
    double toHz = 20000.0;

    bool operator==(const Band&) const = default;
};

/** A synchronised exponential sweep: x(t) = sin(2 pi f1 L exp(t / L)), f1 L whole.

    With f1 L whole, harmonic n of a distortion is an exact copy L ln n early (Novak, Lotton, Simon, JAES 63
    (2015) 786). It starts below the asked band and ends above it, and fades there, so that the band itself
    has full level: dividing by a sweep that fades inside its band costs decibels at the edges. */
struct Sweep
{
    double sampleRateHz = 48000.0;
    double startHz = 0.0;     ///< f1
    double endHz = 0.0;       ///< at the last sample
    double rateSeconds = 0.0; ///< L: seconds in which the frequency grows e-fold
    std::size_t samples = 0;
    std::size_t fadeInSamples = 0;  ///< ends below the band
    std::size_t fadeOutSamples = 0; ///< begins above the band

    /** How long before the response the n-th harmonic's response arrives: L ln n, in seconds. */
    double harmonicAdvanceSeconds(int order) const noexcept;

    /** When the sweep passes a frequency, in seconds from its first sample. */
    double timeOfFrequency(double frequencyHz) const noexcept;

    bool operator==(const Sweep&) const = default;
};

/** Designs the sweep for a band.

    @param seconds 1..30; as f1 L must be whole, lengths come in steps of ln(f2 / f1) / f1 (half a second for
        a band from 20 Hz) and the nearest is taken, at least one step: from 5 Hz a sweep lasts 2.5 s or more
    Problems: band not inside 5 Hz .. 0.455 x rate or narrower than an octave, length or rate (8..400 kHz) out
    of range. */
Result<Sweep> designSweep(double sampleRateHz, double seconds, Band band);

/** The sweep with its fades; peak 1. */
std::vector<double> synthesise(const Sweep& sweep);

}
