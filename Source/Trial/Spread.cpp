#include "Trial/Spread.h"

#include "Dsp/Statistics.h"

#include <algorithm>
#include <cmath>

namespace plumbline
{

namespace
{
/** Quantiles for whole degrees of freedom at 95 %, which is nearly all that is asked for. */
double upperPoint(double confidence, double freedom)
{
    static const auto table = []
    {
        std::vector<double> points{ unknownValue };
        for (int df = 1; df <= 200; ++df)
            points.push_back(studentTQuantile(0.975, df));
        return points;
    }();
    if (confidence == 0.95 && freedom == std::floor(freedom) && freedom >= 1.0 && freedom <= 200.0)
        return table[static_cast<std::size_t>(freedom)];
    return studentTQuantile(0.5 + 0.5 * confidence, freedom);
}
}

double Estimate::halfWidth(double confidence) const
{
    return intervalKnown() ? upperPoint(confidence, degreesOfFreedom) * standardError : unknownValue;
}

double Estimate::chanceIfNothing() const
{
    if (!known() || !intervalKnown())
        return unknownValue;
    if (standardError == 0.0)
        return value == 0.0 ? 1.0 : 0.0;
    return studentTTwoSided(value / standardError, degreesOfFreedom);
}

SpreadModel::Sample SpreadModel::sampleOf(const std::vector<TakeLayout::SetUpSlice>& setUps,
                                          std::span<const double> values)
{
    Sample sample;
    double sum = 0.0, squares = 0.0, inverse = 0.0;
    for (const auto& slice : setUps)
    {
        const auto takes = values.subspan(slice.first, slice.count);
        const double count = static_cast<double>(slice.count);
        double total = 0.0;
        for (const double value : takes)
            total += value;
        const double mean = total / count;
        for (const double value : takes)
            sample.withinSquares += (value - mean) * (value - mean);
        sample.withinFreedom += count - 1.0;
        sample.takes += count;
        // Running mean and squares (Welford 1962): no cancelling.
        sample.setUps += 1.0;
        const double off = mean - sum;
        sum += off / sample.setUps;
        squares += off * (mean - sum);
        inverse += 1.0 / count;
    }
    if (sample.setUps == 0.0 || std::isnan(sum))
        return {};
    sample.mean = sum;
    sample.betweenSquares = squares;
    sample.betweenFreedom = sample.setUps - 1.0;
    sample.takesInverse = inverse / sample.setUps;
    return sample;
}

SpreadModel::SpreadModel(const TakeLayout& layout, std::span<const double> values)
{
    samples.reserve(layout.stances.size());
    double pooledSetUps = 0.0;
    for (const auto& setUps : layout.stances)
    {
        const auto sample = sampleOf(setUps, values);
        betweenSquares += sample.betweenSquares;
        betweenFreedom += sample.betweenFreedom;
        withinSquares += sample.withinSquares;
        withinFreedom += sample.withinFreedom;
        if (sample.betweenFreedom > 0.0)
        {
            pooledInverse += sample.takesInverse * sample.setUps;
            pooledSetUps += sample.setUps;
        }
        samples.push_back(sample);
    }
    if (pooledSetUps > 0.0)
        pooledInverse /= pooledSetUps;
}

/** What a stance with fewer takes a set-up than those of the pool averages less of. */
double SpreadModel::fewerTakes(const Sample& sample) const
{
    const double within = withinFreedom > 0.0 ? withinSquares / withinFreedom : 0.0;
    return std::max(0.0, sample.takesInverse - pooledInverse) * within;
}

SpreadModel::Common SpreadModel::lent(const Sample& a, const Sample* b) const
{
    const double ownSquares = a.betweenSquares + (b == nullptr ? 0.0 : b->betweenSquares);
    const double ownFreedom = a.betweenFreedom + (b == nullptr ? 0.0 : b->betweenFreedom);
    const double others = betweenFreedom - ownFreedom;
    if (!(others > 0.5)) // whole numbers
        return { ownSquares / ownFreedom, ownFreedom };
    const double weight = others * lentFreedom / (others + lentFreedom);
    const double squares = (betweenSquares - ownSquares) * weight / others + ownSquares;
    return { squares / (weight + ownFreedom), weight + ownFreedom };
}

Estimate SpreadModel::mean(std::size_t stance) const
{
    const auto& s = samples[stance];
    Estimate estimate;
    estimate.value = s.mean;
    if (std::isnan(s.mean))
        return estimate;
    const auto set = [&](SpreadBasis basis, double variance, double freedom)
    {
        estimate.basis = basis;
        estimate.standardError = std::sqrt(variance);
        estimate.degreesOfFreedom = freedom;
    };
    if (betweenFreedom > 0.0)
    {
        if (s.setUps >= 3.0)
            set(SpreadBasis::putBackOwn, s.betweenSquares / s.betweenFreedom / s.setUps, s.betweenFreedom);
        else
        {
            const auto pool = lent(s, nullptr);
            set(SpreadBasis::putBackPooled, (pool.variance + fewerTakes(s)) / s.setUps,
                pool.degreesOfFreedom);
        }
    }
    else if (s.takes >= 2.0)
        set(SpreadBasis::untouchedOwn, s.withinSquares / s.withinFreedom / s.takes, s.withinFreedom);
    else if (withinFreedom > 0.0)
        set(SpreadBasis::untouchedPooled, withinSquares / withinFreedom / s.takes, withinFreedom);
    return estimate;
}

namespace
{
struct Part
{
    double error, freedom; ///< squared error of the mean
};

double welchFreedom(const Part& a, const Part& b)
{
    const double total = a.error + b.error;
    const double below = a.error * a.error / a.freedom + b.error * b.error / b.freedom;
    return below > 0.0 ? total * total / below : a.freedom + b.freedom;
}

/** Two takes of one stance or of both: both s.d. together, and degrees of freedom half way between those
    of equal s.d. and Welch's. In simulation the former hold 86 to 95 % (s.d. 1:30 to equal), the latter 94
    to 98 %, these 90 to 96 %. */
template <class Sample, class Set>
void setTogether(const Sample& a, const Sample& b, Set set)
{
    const double freedom = a.withinFreedom + b.withinFreedom;
    const double variance = (a.withinSquares + b.withinSquares) / freedom;
    const double welch = welchFreedom({ a.withinSquares / a.withinFreedom / a.takes, a.withinFreedom },
                                      { b.withinSquares / b.withinFreedom / b.takes, b.withinFreedom });
    set(SpreadBasis::untouchedOwn, variance * (1.0 / a.takes + 1.0 / b.takes), 0.5 * (freedom + welch));
}

}

Estimate SpreadModel::difference(std::size_t first, std::size_t second) const
{
    const auto &a = samples[first], &b = samples[second];
    Estimate estimate;
    estimate.value = a.mean - b.mean;
    if (std::isnan(estimate.value))
        return estimate;
    const auto set = [&](SpreadBasis basis, double variance, double freedom)
    {
        estimate.basis = basis;
        estimate.standardError = std::sqrt(variance);
        estimate.degreesOfFreedom = freedom;
    };
    const auto setOwn = [&](SpreadBasis basis, const Part& x, const Part& y)
    { set(basis, x.error + y.error, welchFreedom(x, y)); };
    if (betweenFreedom > 0.0)
    {
        if (a.setUps >= 3.0 && b.setUps >= 3.0)
            setOwn(SpreadBasis::putBackOwn,
                   { a.betweenSquares / a.betweenFreedom / a.setUps, a.betweenFreedom },
                   { b.betweenSquares / b.betweenFreedom / b.setUps, b.betweenFreedom });
        else
        {
            const auto pool = lent(a, &b);
            set(SpreadBasis::putBackPooled,
                (pool.variance + fewerTakes(a)) / a.setUps + (pool.variance + fewerTakes(b)) / b.setUps,
                pool.degreesOfFreedom);
        }
    }
    else if (a.takes >= 3.0 && b.takes >= 3.0)
        setOwn(SpreadBasis::untouchedOwn, { a.withinSquares / a.withinFreedom / a.takes, a.withinFreedom },
               { b.withinSquares / b.withinFreedom / b.takes, b.withinFreedom });
    else if (a.takes >= 2.0 && b.takes >= 2.0)
        setTogether(a, b, set);
    else if (withinFreedom > 0.0)
        set(SpreadBasis::untouchedPooled, withinSquares / withinFreedom * (1.0 / a.takes + 1.0 / b.takes),
            withinFreedom);
    return estimate;
}

SpreadModel::Common SpreadModel::common() const
{
    if (betweenFreedom > 0.0)
        return { betweenSquares / betweenFreedom, betweenFreedom };
    if (withinFreedom > 0.0)
        return { withinSquares / withinFreedom, withinFreedom };
    return {};
}

double SpreadModel::dataOf(std::size_t stance) const
{
    return betweenFreedom > 0.0 ? samples[stance].setUps : samples[stance].takes;
}

SpreadFacts::SpreadFacts(const TakeLayout& layout)
{
    for (const auto& stance : layout.stances)
    {
        setUps.push_back(stance.size());
        stoodTwice += stance.size() >= 2 ? 1 : 0;
    }
}

bool SpreadFacts::firm(std::size_t a, std::size_t b) const
{
    return (setUps[a] >= 2 && setUps[b] >= 2) || stoodTwice >= 3;
}

}
