#pragma once

#include "Measure/Calibration.h"
#include "Measure/Stimulus.h"

#include <optional>
#include <vector>

namespace plumbline
{

/** What one take brought back, and what was played for it. */
struct Capture
{
    Stimulus stimulus;
    std::vector<float> microphone; ///< full scale 1, at the stimulus' rate
    std::vector<float>
        reference; ///< the electrical loopback, as long as the microphone; empty if there is none
    /** Sample of the capture at which sample 0 of the stimulus was played; may be negative. Not known for a
        recording made by another program: locateStimulus() finds it. */
    std::optional<std::ptrdiff_t> stimulusStart;
};

/** What is known of the microphone and the air. */
struct MicrophoneSetting
{
    std::optional<Calibration> calibration;
    std::optional<double> sensitivityDbSpl; ///< SPL of a sine of 0 dBFS
    double temperatureC = 20.0;
};

}
