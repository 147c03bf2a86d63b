#pragma once

#include "Files/Json.h"
#include "Measure/TakeAnalysis.h"

#include <string>

namespace plumbline
{

inline constexpr int analysisSchemaVersion = 1;

/** "plumbline/analysis/1" as the program's users may rely on it. */
Json toJson(const TakeAnalysis& analysis);

/** Faults as JSON: code, severity, words. */
Json toJson(const std::vector<Fault>& faults);

/** A calibration as JSON: name and points; null if there is none. */
Json toJson(const std::optional<Calibration>& calibration);

/** The curves as comma-separated values, one row a frequency; empty fields where a value is not known. */
std::string responseCsv(const TakeAnalysis& analysis);

/** JSON as it is written to disk: two blanks of indentation, arrays of numbers on one line. */
std::string toText(const Json& value);

}
