#pragma once

#include "Core/Result.h"
#include "Measure/Capture.h"
#include "Measure/Fault.h"
#include "Measure/FrequencyResponse.h"
#include "Measure/Gate.h"

#include <optional>
#include <vector>

namespace plumbline
{

/** How a take is to be looked at. */
struct AnalysisSettings
{
    OctaveFraction smoothing;
    WindowChoice window;
    MicrophoneSetting microphone;
};

/** What is known of one side. */
struct SideAnalysis
{
    /** From the reference to the microphone: the peak of the first arrival (see firstArrival). Of a recording
        without a time base: of the right against the left, whose own is 0. Nothing if the side was not heard.
        */
    std::optional<double> travelTimeSeconds;
    std::optional<int> polarity; ///< +1 or -1
    double windowMs = 0.0;       ///< time looked at after the first arrival
    FrequencyResponse response;
    /** The response is far from silent where neither sound nor harmonics can be, as after a bang in the sweep. */
    bool disturbed = false;

    bool heard() const noexcept { return polarity.has_value(); }
};

/** What one take tells. */
struct TakeAnalysis
{
    double sampleRateHz = 0.0;
    AnalysisSettings settings;
    bool timeBaseKnown = true;
    std::vector<Fault> faults;
    SideAnalysis left;
    std::optional<SideAnalysis> right; ///< absent for a single monitor

    bool doubtful() const noexcept;
};

/** Version of the method, to be raised whenever the same capture would give other figures. */
inline constexpr int analysisMethodVersion = 1;

/** Lengths of the transforms that a take of this stimulus is usually analysed with. */
std::vector<std::size_t> transformLengths(const Stimulus& stimulus);

/** [any but audio] Analyses a take: place, divide, gate, smooth, mask. Pure; plans transforms (see Fft).
    Problems: those of uselessness() and place(). */
Result<TakeAnalysis> analyseTake(const Capture& capture, const AnalysisSettings& settings);

}
