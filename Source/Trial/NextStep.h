#pragma once

#include "Trial/Order.h"
#include "Trial/Verdict.h"

#include <optional>
#include <string>
#include <vector>

namespace plumbline
{

/** What to measure to settle what is open. */
struct NextStep
{
    std::vector<std::size_t> stances; ///< to lift and stand up again
    int times = 1;
    std::optional<std::size_t>
        reading; ///< that it would settle; none: it measures the put-back spread itself
};

/** Most set-ups that are worth asking for. */
inline constexpr int mostFurtherSetUps = 3;

/** The cheapest step that, going by the spread seen so far, would settle an open reading between two
    stances: the fewest further set-ups, of the one with fewer first. Nothing if none would with
    mostFurtherSetUps each. Where no put-back spread was measured, the step is to measure it. */
std::optional<NextStep> nextStep(const std::vector<Verdict>& between, const std::vector<Reading>& readings,
                                 const SpreadFacts& facts);

}
