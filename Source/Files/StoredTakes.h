#pragma once

#include "Files/TrialFolder.h"
#include "Measure/Fault.h"
#include "Trial/StanceData.h"

#include <vector>

namespace plumbline
{

/** What a trial holds for comparing, and what of it could not be used. */
struct StoredTakes
{
    std::vector<StanceData> stances; ///< in the trial's order; those with a kept take that can be read
    std::vector<Fault> faults;       ///< of takes and stances, each named
};

/** [analysis, any but audio] Reads the kept takes of a trial from their summaries, no captures. Takes that are not
    kept are left out; those that are missing, damaged or have other sides than their monitor are left out and named. */
StoredTakes storedTakes(const TrialFolder& folder);

/** [any] What comparing needs, from a summary. */
TakeData takeDataOf(const TakeSummary& summary);

}
