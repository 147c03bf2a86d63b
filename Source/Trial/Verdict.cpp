#include "Trial/Verdict.h"

#include "Dsp/MultipleTests.h"

#include <cmath>

namespace plumbline
{

namespace
{
bool restsOnPutBack(SpreadBasis basis)
{
    return basis == SpreadBasis::putBackOwn || basis == SpreadBasis::putBackPooled;
}

void call(Verdict& verdict, const Reading& reading, const VerdictRules& rules)
{
    const auto& found = verdict.difference;
    const double size = std::abs(found.difference);
    if (!(verdict.adjustedChance <= rules.alpha) || !(size > found.plusMinus))
        return;
    verdict.underNoticeable =
        rules.heedNoticeable && reading.justNoticeable && size < reading.justNoticeable->difference;
    if (!verdict.underNoticeable)
        verdict.call = found.points > 0.0 ? Call::better : Call::worse;
}
}

std::vector<Verdict> verdictsOf(std::size_t a, std::size_t b, const std::vector<Reading>& readings,
                                const std::vector<ReadingEstimate>& estimates, const SpreadFacts& facts,
                                const VerdictRules& rules)
{
    std::vector<Verdict> verdicts;
    std::vector<double> chances;
    for (std::size_t i = 0; i < readings.size(); ++i)
    {
        if (!readings[i].hasBetterSide())
            continue;
        auto& verdict = verdicts.emplace_back();
        verdict.a = a;
        verdict.b = b;
        verdict.reading = i;
        verdict.difference = estimates[i].difference(a, b);
        verdict.firm = restsOnPutBack(verdict.difference.basis) && facts.firm(a, b);
        chances.push_back(verdict.difference.chance);
    }
    const auto adjusted = holmAdjusted(chances);
    for (std::size_t i = 0; i < verdicts.size(); ++i)
    {
        verdicts[i].adjustedChance = adjusted[i];
        call(verdicts[i], readings[verdicts[i].reading], rules);
    }
    return verdicts;
}

const char* callName(Call call)
{
    switch (call)
    {
    case Call::better:
        return "better";
    case Call::worse:
        return "worse";
    case Call::tooClose:
        break;
    }
    return "too close to call";
}

}
