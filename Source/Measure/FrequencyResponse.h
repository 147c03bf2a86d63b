#pragma once

#include "Dsp/FractionalOctave.h"
#include "Measure/Calibration.h"
#include "Measure/Gate.h"
#include "Measure/NoiseFloor.h"

#include <complex>
#include <optional>
#include <span>
#include <vector>

namespace plumbline
{

/** Curves over frequency, all in step. Values where `known` is false are not to be shown as numbers. */
struct FrequencyResponse
{
    std::vector<double> frequencyHz;
    std::vector<double> levelDb; ///< 20 lg of microphone over reference, noise power taken off, smoothed; NaN
                                 ///< where the noise is all there is
    std::vector<double> phaseDeg; ///< travel time removed, unwrapped, never smoothed
    std::vector<double>
        noiseDb; ///< level that the noise alone would show; empty if there was none, or it is not known
    std::vector<double> sdDb; ///< predicted standard deviation of levelDb; empty as noiseDb
    std::vector<bool> known;
};

/** A curve is unknown where the noise makes its level scatter more than this (1 s.d.). */
inline constexpr double largestKnownDeviationDb = 0.25;

/** A transfer function as bins, and how its bins came to be. */
struct TransferView
{
    std::span<const std::complex<double>> bins; ///< 0 .. length/2
    std::size_t length = 0;                     ///< of the transform, in samples
    double sampleRateHz = 0.0;
    double timeOfFirstSample = 0.0; ///< time, in samples, that index 0 of the response stands for
    double centreSamples = 0.0;     ///< middle of the response, from index 0
    double lookSeconds = 0.0;       ///< time looked at: of the gate, or of the whole segment
    double lowestHz = 0.0;          ///< under this a gate is too short to tell
    Band excited;                   ///< nothing was divided outside: smoothing is cut there
};

struct ResponseSettings
{
    Band band;
    OctaveFraction smoothing;
    const Calibration* calibration = nullptr; ///< taken off if there is one
    double travelSamples = 0.0;               ///< removed from the phase
};

/** Reads level, phase, noise and the mask of what is known from a transfer function, on the curve frequencies
    inside the band.

    @param noise null where there was no lead-in to learn it from: then noise and deviation stay empty */
FrequencyResponse readResponse(const TransferView& transfer, const ResponseSettings& settings,
                               const NoiseFloor* noise);

}
