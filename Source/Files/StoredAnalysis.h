#pragma once

#include "Core/Result.h"
#include "Measure/Fault.h"
#include "Measure/FrequencyResponse.h"

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

namespace plumbline
{

/** What a take's analysis.json tells, read back. Where a value is not known it is NaN, and `known` false. */
struct StoredAnalysis
{
    std::string smoothing; ///< as the file words it
    bool levelIsSpl = false;
    std::vector<Fault> faults;
    FrequencyResponse left;
    std::optional<FrequencyResponse> right;
};

/** [any but audio] Problems: missing, damaged, of another or a newer schema, arrays that do not run in step. */
Result<StoredAnalysis> readStoredAnalysis(const std::filesystem::path& file);

}
