#pragma once

#include "Files/Json.h"
#include "Measure/Calibration.h"
#include "Measure/Stimulus.h"

#include <filesystem>

namespace plumbline
{

inline constexpr int stimulusSchemaVersion = 1;
inline constexpr int captureSchemaVersion = 1;

/** "plumbline/stimulus/1": everything needed to make the very same samples again. */
Json toJson(const Stimulus& stimulus);

/** Problems: damaged, out of range, of another or a newer schema. `where` names the source in the problem. */
Result<Stimulus> stimulusFromJson(const Json& value, const std::string& where);

/** What a file says of how a recording was made. Of a stimulus file only the stimulus is known; a take's
    capture.json knows the rest too. */
struct CaptureNotes
{
    Stimulus stimulus;
    std::optional<std::ptrdiff_t> stimulusStart;
    std::optional<int> referenceChannel; ///< counted from 1
    std::optional<Calibration> calibration;
    std::optional<double> sensitivityDbSpl, temperatureC;
};

/** Reads a stimulus file or a take's capture.json. */
Result<CaptureNotes> readCaptureNotes(const std::filesystem::path& file);

/** Both channels of the stream, left and right (left alone for a single monitor), as they are played. */
std::vector<std::vector<float>> stimulusChannels(const Stimulus& stimulus);

}
