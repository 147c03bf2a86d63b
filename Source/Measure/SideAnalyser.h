#pragma once

#include "Dsp/PowerDensity.h"
#include "Measure/Arrival.h"
#include "Measure/Capture.h"
#include "Measure/Deconvolution.h"
#include "Measure/Location.h"
#include "Measure/TakeAnalysis.h"

#include <optional>
#include <span>

namespace plumbline
{

/** Analyses one side of a take after the other, and keeps what both share: the noise of the lead-in, the
    played spectrum where both were played alike. [any but audio] Keeps references to what it is made from. */
class SideAnalyser
{
public:
    SideAnalyser(const Capture& capture, const AnalysisSettings& settings, const Placement& placement);

    /** Problems: the sound does not lie between the loopback and the end of the silence. */
    Result<SideAnalysis> analyse(Side side);

    /** False if there was no tenth of a second of silence before the left sweep. */
    bool noiseKnown() const
    {
        return leadIn(capture.microphone).size() >= static_cast<std::size_t>(0.1 * rate);
    }

    static std::size_t usualLength(const Stimulus& stimulus);
    /** 1.36 s (2^16 at 48 kHz), for the narrow bands of the bass. */
    static std::size_t leastGatedLength(double sampleRateHz);

private:
    std::span<const float> within(std::ptrdiff_t from, std::ptrdiff_t to,
                                  const std::vector<float>& signal) const;
    std::span<const float> leadIn(const std::vector<float>& signal) const;
    std::span<const float> segment(const std::vector<float>& signal, Side side) const;
    double offsetOf(const std::vector<float>& signal) const;
    const PlayedSpectrum& playedFor(Side side);
    NoiseFloor noiseFloor(const PlayedSpectrum& played, double shareKept) const;
    std::optional<Problem> faultOfTiming(const ImpulseResponse& impulse) const;
    bool isDisturbed(const ImpulseResponse& impulse, const PlayedSpectrum& played) const;
    Arrival arrivalIn(const ImpulseResponse& impulse) const;
    Result<SideAnalysis> ungated(SpectrumBuffer transfer, const PlayedSpectrum& played) const;
    Result<SideAnalysis> gated(SpectrumBuffer transfer, const PlayedSpectrum& played) const;
    GateLimits gateLimits(const Arrival& arrival) const;
    Gate chooseGate(const ImpulseResponse& impulse, const GateLimits& limits,
                    const PlayedSpectrum& played) const;
    SideAnalysis read(TransferView view, const Arrival& arrival, double afterSamples, const NoiseFloor& floor,
                      const PlayedSpectrum& played) const;
    void withholdIfUnheard(SideAnalysis& side, std::span<const float> captured) const;

    const Capture& capture;
    const Stimulus& stimulus;
    const AnalysisSettings& settings;
    const Placement placement;
    double rate;
    ExcitedRange range;
    std::size_t transformLength;
    PowerDensity noise;
    double microphoneOffset, referenceOffset;
    std::optional<PlayedSpectrum> spectrum;
};

}
