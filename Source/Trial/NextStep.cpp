#include "Trial/NextStep.h"

#include "Dsp/Statistics.h"

#include <cmath>

namespace plumbline
{

namespace
{
/** Set-ups of a and b after `more` further ones, each going to the stance with fewer, then to b. */
struct Counts
{
    double a, b;
    int toA = 0, toB = 0;

    Counts(double first, double second, int more) : a(first), b(second)
    {
        for (int i = 0; i < more; ++i)
        {
            if (a < b)
            {
                a += 1.0;
                ++toA;
            }
            else
            {
                b += 1.0;
                ++toB;
            }
        }
    }
};

/** Further set-ups after which the interval would leave zero out; nothing if more than both can be asked
    for. */
std::optional<int> furtherSetUps(const Verdict& verdict, double a, double b)
{
    const auto& found = verdict.difference;
    if (!std::isfinite(found.standardError) || !std::isfinite(found.onScale))
        return std::nullopt;
    const double variance = found.standardError * found.standardError / (1.0 / a + 1.0 / b);
    for (int more = 1; more <= 2 * mostFurtherSetUps; ++more)
    {
        const Counts counts(a, b, more);
        const double error = std::sqrt(variance * (1.0 / counts.a + 1.0 / counts.b));
        // Holm's first step for as many readings as are still open would ask more; this is the interval's
        // own.
        if (std::abs(found.onScale) > studentTQuantile(0.975, found.degreesOfFreedom + more) * error)
            return more;
    }
    return std::nullopt;
}
}

std::optional<NextStep> nextStep(const std::vector<Verdict>& between, const std::vector<Reading>& readings,
                                 const SpreadFacts& facts)
{
    if (between.empty())
        return std::nullopt;
    const std::size_t a = between.front().a, b = between.front().b;
    if (!facts.firm(a, b))
    {
        NextStep step;
        for (const auto stance : { a, b })
            if (facts.setUps[stance] < 2)
                step.stances.push_back(stance);
        return step;
    }
    std::optional<NextStep> best;
    double bestWorth = 0.0;
    int fewest = 0;
    for (const auto& verdict : between)
    {
        if (verdict.call != Call::tooClose || verdict.underNoticeable)
            continue;
        const double setUpsA = static_cast<double>(facts.setUps[a]),
                     setUpsB = static_cast<double>(facts.setUps[b]);
        const auto more = furtherSetUps(verdict, setUpsA, setUpsB);
        const double worth = std::abs(verdict.difference.points) * readings[verdict.reading].weight;
        if (!more || (best && (*more > fewest || (*more == fewest && worth <= bestWorth))))
            continue;
        const Counts counts(setUpsA, setUpsB, *more);
        NextStep step;
        step.reading = verdict.reading;
        if (counts.toA > 0)
            step.stances.push_back(a);
        if (counts.toB > 0)
            step.stances.push_back(b);
        step.times = std::max(counts.toA, counts.toB);
        best = step;
        bestWorth = worth;
        fewest = *more;
    }
    return best;
}

}
