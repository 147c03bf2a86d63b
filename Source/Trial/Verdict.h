#pragma once

#include "Trial/ReadingEstimate.h"

#include <vector>

namespace plumbline
{

enum class Call
{
    better,
    worse,
    tooClose
};

/** One reading of stance a against stance b. */
struct Verdict
{
    std::size_t a = 0, b = 0; ///< places among the board's stances
    std::size_t reading = 0;  ///< place in the list of readings
    ReadingDifference difference;
    double adjustedChance = unknownValue; ///< Holm, over the readings of this pair
    Call call = Call::tooClose;           ///< of a against b
    bool firm = false;                    ///< rests on a put-back spread that was measured
    bool underNoticeable = false;         ///< it differs, but by less than listeners notice
};

struct VerdictRules
{
    double alpha = 0.05;
    bool heedNoticeable = true;
};

/** Verdicts on all readings with a better side, of a against b. A reading is called where Holm's adjusted
    chance is at most alpha and its own interval does not hold zero, so that of all calls about a pair one
    is false at most once in twenty; and not if it is less than listeners notice. */
std::vector<Verdict> verdictsOf(std::size_t a, std::size_t b, const std::vector<Reading>& readings,
                                const std::vector<ReadingEstimate>& estimates, const SpreadFacts& facts,
                                const VerdictRules& rules);

/** "better", "worse", "too close to call". */
const char* callName(Call call);

}
