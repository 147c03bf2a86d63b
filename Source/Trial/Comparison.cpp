#include "Trial/Comparison.h"

#include "Trial/Readings/Registry.h"
#include "Trial/Summary.h"

namespace plumbline
{

std::vector<Verdict> Comparison::between(std::size_t a, std::size_t b) const
{
    std::vector<Verdict> found;
    for (const auto& verdict : verdicts)
        if ((verdict.a == a && verdict.b == b) || (verdict.a == b && verdict.b == a))
            found.push_back(verdict);
    return found;
}

namespace
{
void comparePairs(Comparison& result, const std::vector<ReadingEstimate>& estimates)
{
    const std::size_t count = result.board->stances().size();
    for (std::size_t a = 0; a < count; ++a)
        for (std::size_t b = a + 1; b < count; ++b)
        {
            const auto verdicts =
                verdictsOf(a, b, result.readings, estimates, *result.facts, result.settings.rules);
            result.verdicts.insert(result.verdicts.end(), verdicts.begin(), verdicts.end());
            const auto regions = result.differences->regions(a, b);
            result.regions.insert(result.regions.end(), regions.begin(), regions.end());
        }
}
}

std::shared_ptr<const Comparison> compare(std::vector<StanceData> stances, const ComparisonSettings& settings)
{
    auto result = std::make_shared<Comparison>();
    result->settings = settings;
    result->data = std::move(stances);
    result->board = std::make_unique<MatchedBoard>(result->data, settings.matchBand);
    result->differences = std::make_unique<Differences>(*result->board);
    result->readings = allReadings({ settings.mask });
    result->facts.emplace(result->board->layout());
    std::vector<ReadingEstimate> estimates;
    for (const auto& reading : result->readings)
        estimates.emplace_back(*result->board, reading);
    for (std::size_t s = 0; s < result->board->stances().size(); ++s)
    {
        auto& values = result->values.emplace_back();
        for (const auto& estimate : estimates)
            values.push_back(estimate.value(s));
    }
    comparePairs(*result, estimates);
    result->order = orderOf(*result->board, result->readings, estimates, settings.weights);
    if (result->order.places.size() > 1)
        result->next =
            nextStep(result->between(result->order.places[0].stance, result->order.places[1].stance),
                     result->readings, *result->facts);
    result->words = summaryOf(*result);
    return result;
}

}
