#pragma once

#include "Files/Json.h"
#include "Measure/Fault.h"
#include "Trial/Comparison.h"

#include <string>
#include <vector>

namespace plumbline
{

inline constexpr int comparisonSchemaVersion = 1;

/** [any] "plumbline/comparison/1" as the program's users may rely on it. What is not known is null.
    @param faults what makes it doubtful, or must be known
    @param causes what explains the regions, in step with them; none: nothing is claimed */
Json toJson(const Comparison& comparison, const std::vector<Fault>& faults,
            const std::vector<std::string>& causes = {});

/** [any] Readings as comma-separated values, one row a stance and reading; empty fields where nothing is known. */
std::string comparisonCsv(const Comparison& comparison);

/** [any] What about the takes makes a comparison doubtful: stances with one take or none that can be compared, takes
    smoothed unlike one another, sides that are exchanged or of unlike polarity. And as a note that no stance was
    stood up twice. */
std::vector<Fault> faultsOf(const Comparison& comparison, const std::vector<Position>& positions);

/** "left", "right" */
const char* sideName(std::size_t side);

/** Takes of a stance that were compared, at all positions. */
std::size_t takesOf(const MatchedStance& stance);

}
