#pragma once

#include "Files/TakeSummary.h"

#include <cstdint>
#include <optional>
#include <string>

namespace plumbline
{

/** A summary.json as read, and of which analysis.json it is. */
struct ParsedSummary
{
    TakeSummary summary;
    std::uint64_t analysisBytes = 0;
    std::int64_t analysisTime = 0;
};

/** [any] Reads the text of a summary.json straight into curves, with no tree between. Nothing if it is damaged, of
    another version, or its curves do not run in step: then it is made again. */
std::optional<ParsedSummary> parseSummary(const std::string& text);

}
