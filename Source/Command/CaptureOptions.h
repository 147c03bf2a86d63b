#pragma once

#include "Core/Result.h"
#include "Measure/TakeAnalysis.h"

#include <CLI/CLI.hpp>

#include <optional>
#include <string>

namespace plumbline
{

/** The options that say what a recording is and how it is to be looked at, shared by `analyse` and `add`. */
struct CaptureOptions
{
    std::string capture;
    std::string stimulus;
    int microphoneChannel = 1;
    int referenceChannel = 0; ///< 0: none
    std::string calibration;
    std::optional<double> sensitivityDbSpl;
    std::optional<double> temperatureC;
};

/** A recording with everything that is known of it. */
struct ReadCapture
{
    Capture capture;
    MicrophoneSetting microphone;
};

void addCaptureOptions(CLI::App& command, CaptureOptions& options);

/** What is wrong with the options together, as a sentence; empty if nothing is. */
std::string misuseOf(const CaptureOptions& options);

/** Reads the recording, its stimulus and the calibration. What an option does not say is taken from a take's
    own capture.json where that was given. Problems name the file. */
Result<ReadCapture> readCapture(const CaptureOptions& options);

/** "none" or N for 1/N octave, N in 1..48. */
std::optional<OctaveFraction> parseSmoothing(const std::string& text);

/** "auto", "full", or a length in milliseconds above 0 and up to 10000. */
std::optional<WindowChoice> parseWindow(const std::string& text);

}
