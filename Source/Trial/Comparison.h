#pragma once

#include "Trial/Difference.h"
#include "Trial/NextStep.h"
#include "Trial/Order.h"
#include "Trial/Verdict.h"

#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace plumbline
{

struct ComparisonSettings
{
    Band matchBand = usualMatchBand;
    ToleranceMask mask = plainMask();
    ReadingWeights weights;
    VerdictRules rules;
};

/** Everything that a board's takes tell: one immutable value, made once. */
struct Comparison
{
    ComparisonSettings settings;
    std::vector<StanceData> data; ///< what was compared
    std::unique_ptr<const MatchedBoard> board;
    std::unique_ptr<const Differences> differences;
    std::vector<Reading> readings;
    std::vector<std::vector<ReadingValue>> values; ///< [stance][reading]
    std::vector<Verdict> verdicts;                 ///< pair by pair, a before b on the board
    std::vector<DifferenceRegion> regions;         ///< pair by pair
    StanceOrder order;
    std::optional<SpreadFacts> facts;
    std::optional<NextStep> next;
    std::vector<std::string> words; ///< the answer first; sentences as they are shown

    const StanceData& stance(std::size_t index) const { return *board->stances()[index].data; }

    /** The verdicts of one pair, a being either of both; as they are stored, of the earlier stance against
        the later. */
    std::vector<Verdict> between(std::size_t a, std::size_t b) const;
};

/** [any] Compares stances from takes to words. Pure; no stance or one alone gives readings and no
    verdicts. */
std::shared_ptr<const Comparison> compare(std::vector<StanceData> stances,
                                          const ComparisonSettings& settings);

}
