#include "Trial/ReadingEstimate.h"

#include "Dsp/Statistics.h"

#include <algorithm>
#include <cmath>

namespace plumbline
{

namespace
{
/** Whether a reading can be had of a set-up is seen by asking; those that give none are left out of its
    layout. */
struct Units
{
    TakeLayout layout;
    std::vector<std::vector<double>> curves;          ///< what each unit gives
    std::vector<std::vector<std::ptrdiff_t>> ofSetUp; ///< [stance][set-up]: its first unit, or -1
};

Units unitsOf(const MatchedBoard& board, const Reading& reading)
{
    Units units;
    for (const auto& stance : board.stances())
    {
        auto& slices = units.layout.stances.emplace_back();
        auto& places = units.ofSetUp.emplace_back();
        for (const auto& setUp : stance.setUps)
        {
            const std::size_t first = units.curves.size();
            if (!reading.ofSetUps)
                for (const auto* take : setUp.seat)
                    units.curves.push_back(reading.of({ board, stance, { take }, {} }));
            else if (auto curve = reading.of({ board, stance, setUp.seat, setUp.elsewhere }); !curve.empty())
                units.curves.push_back(std::move(curve));
            const std::size_t count = units.curves.size() - first;
            places.push_back(count > 0 ? static_cast<std::ptrdiff_t>(first) : -1);
            if (count > 0)
                slices.push_back({ first, count });
        }
    }
    units.layout.takes = units.curves.size();
    return units;
}

double meanProduct(const std::vector<double>& a, const std::vector<double>& b)
{
    double sum = 0.0;
    for (std::size_t i = 0; i < a.size(); ++i)
        sum += a[i] * b[i];
    return sum / static_cast<double>(a.size());
}
}

ReadingEstimate::ReadingEstimate(const MatchedBoard& matched, const Reading& which)
    : board(matched), reading(which)
{
    gather();
}

void ReadingEstimate::gather()
{
    auto units = unitsOf(board, reading);
    layout = std::move(units.layout);
    firstUnit = std::move(units.ofSetUp);
    const auto& curves = units.curves;
    if (reading.scale == ReadingScale::folded)
        return estimateFolded(curves);
    std::vector<double> values;
    for (const auto& curve : curves)
    {
        const double value = curve.empty() ? unknownValue : curve.front();
        values.push_back(reading.scale == ReadingScale::ratio ? std::log2(value) : value);
    }
    model.emplace_back(layout, values);
    makePoints(values);
}

void ReadingEstimate::estimateFolded(const std::vector<std::vector<double>>& curves)
{
    std::size_t places = 0;
    for (const auto& curve : curves)
        places = std::max(places, curve.size());
    std::vector<std::vector<double>> byPlace(places, std::vector<double>(curves.size(), unknownValue));
    for (std::size_t unit = 0; unit < curves.size(); ++unit)
        if (curves[unit].size() == places)
            for (std::size_t place = 0; place < places; ++place)
                byPlace[place][unit] = curves[unit][place];
    std::vector<SpreadModel> models;
    for (const auto& values : byPlace)
        models.emplace_back(layout, values);

    std::vector<double> linearised(curves.size(), unknownValue);
    std::vector<double> sizes(layout.stances.size(), unknownValue), noises = sizes;
    for (std::size_t s = 0; s < layout.stances.size() && places > 0; ++s)
    {
        std::vector<double> mean, error;
        for (const auto& at : models)
        {
            const auto estimate = at.mean(s);
            mean.push_back(estimate.value);
            error.push_back(estimate.intervalKnown() ? estimate.standardError * estimate.standardError : 0.0);
        }
        if (!std::isfinite(meanProduct(mean, mean)))
            continue;
        std::vector<double> weights = mean; // direction in which the size grows
        double noise = 0.0;
        if (reading.fold == Fold::largest)
        {
            const auto largest = static_cast<std::size_t>(
                std::max_element(mean.begin(), mean.end(),
                                 [](double x, double y) { return std::abs(x) < std::abs(y); }) -
                mean.begin());
            std::fill(weights.begin(), weights.end(), 0.0);
            weights[largest] = mean[largest] * static_cast<double>(mean.size());
            noise = error[largest];
        }
        else
            for (const double value : error)
                noise += value / static_cast<double>(error.size());
        sizes[s] = std::sqrt(meanProduct(weights, mean));
        noises[s] = noise;
        for (const auto& slice : layout.stances[s])
            for (std::size_t unit = slice.first; unit < slice.first + slice.count; ++unit)
                linearised[unit] = sizes[s] > 0.0 ? meanProduct(weights, curves[unit]) / sizes[s] : 0.0;
    }
    model.emplace_back(layout, linearised);
    for (std::size_t s = 0; s < layout.stances.size(); ++s)
    {
        const auto along = model.front().mean(s);
        auto& result = folded.emplace_back();
        result.square = sizes[s] * sizes[s] - noises[s];
        result.error = std::hypot(2.0 * sizes[s] * along.standardError, 1.5 * noises[s]);
        result.freedom = along.degreesOfFreedom;
        result.basis = along.basis;
        // Around the stance's figure, not around the size that noise is folded into.
        const double shift = std::sqrt(std::max(0.0, result.square)) - sizes[s];
        for (const auto& slice : layout.stances[s])
            for (std::size_t unit = slice.first; unit < slice.first + slice.count; ++unit)
                linearised[unit] += shift;
    }
    makePoints(linearised);
}

void ReadingEstimate::makePoints(const std::vector<double>& values)
{
    const double sign = reading.better == Better::higher ? 1.0 : -1.0;
    for (std::size_t s = 0; s < board.stances().size(); ++s)
        for (std::size_t u = 0; u < board.stances()[s].setUps.size(); ++u)
        {
            const auto first = firstUnit[s][u];
            for (std::size_t take = 0; take < board.stances()[s].setUps[u].seat.size(); ++take)
            {
                double value = model.front().mean(s).value; // what a set-up without figure is taken for
                if (first >= 0)
                    value = values[static_cast<std::size_t>(first) + (reading.ofSetUps ? 0 : take)];
                points.push_back(sign * value / reading.step);
            }
        }
}

double ReadingEstimate::shown(double onScale) const
{
    return reading.scale == ReadingScale::ratio ? std::exp2(onScale) : onScale;
}

ReadingValue ReadingEstimate::foldedValue(std::size_t stance) const
{
    const auto& f = folded[stance];
    ReadingValue result;
    result.value = std::sqrt(std::max(0.0, f.square));
    if (std::isnan(f.square))
        result.value = unknownValue;
    if (!result.known() || !std::isfinite(f.error))
        return result;
    const double half = Estimate{ f.square, f.error, f.freedom, f.basis }.halfWidth();
    result.low = std::sqrt(std::max(0.0, f.square - half));
    result.high = std::sqrt(std::max(0.0, f.square + half));
    result.plusMinus = std::max(result.value - result.low, result.high - result.value);
    result.basis = f.basis;
    return result;
}

ReadingValue ReadingEstimate::value(std::size_t stance) const
{
    if (reading.scale == ReadingScale::folded)
        return foldedValue(stance);
    const auto estimate = model.front().mean(stance);
    ReadingValue result;
    result.value = shown(estimate.value);
    if (!estimate.known() || !estimate.intervalKnown())
        return result;
    const double half = estimate.halfWidth();
    result.low = shown(estimate.value - half);
    result.high = shown(estimate.value + half);
    result.plusMinus = std::max(result.value - result.low, result.high - result.value);
    result.basis = estimate.basis;
    return result;
}

ReadingDifference ReadingEstimate::foldedDifference(std::size_t a, std::size_t b) const
{
    const auto &fa = folded[a], &fb = folded[b];
    const auto va = foldedValue(a), vb = foldedValue(b);
    ReadingDifference result;
    result.difference = va.value - vb.value;
    const auto along = model.front().difference(a, b);
    Estimate squares{ fa.square - fb.square, std::hypot(fa.error, fb.error), along.degreesOfFreedom,
                      along.basis };
    if (!squares.known() || !squares.intervalKnown() || !va.known() || !vb.known())
        return result;
    result.chance = squares.chanceIfNothing();
    result.basis = along.basis;
    const double below = std::hypot(va.value - va.low, vb.high - vb.value);
    const double above = std::hypot(va.high - va.value, vb.value - vb.low);
    result.plusMinus = std::max(below, above);
    result.standardError = squares.standardError;
    result.degreesOfFreedom = squares.degreesOfFreedom;
    result.onScale = squares.value;
    return result;
}

ReadingDifference ReadingEstimate::difference(std::size_t a, std::size_t b) const
{
    ReadingDifference result;
    if (reading.scale == ReadingScale::folded)
        result = foldedDifference(a, b);
    else
    {
        const auto estimate = model.front().difference(a, b);
        const double first = model.front().mean(a).value, second = model.front().mean(b).value;
        result.difference = shown(first) - shown(second);
        result.chance = estimate.chanceIfNothing();
        result.basis = estimate.basis;
        result.standardError = estimate.standardError;
        result.degreesOfFreedom = estimate.degreesOfFreedom;
        result.onScale = estimate.value;
        const double half = estimate.known() ? estimate.halfWidth() : unknownValue;
        result.plusMinus = half;
        if (reading.scale == ReadingScale::ratio) // b times 2^(x -+ half), less b
            result.plusMinus =
                shown(second) * std::max(std::exp2(estimate.value + half) - std::exp2(estimate.value),
                                         std::exp2(estimate.value) - std::exp2(estimate.value - half));
    }
    const double sign = reading.better == Better::higher ? 1.0 : -1.0;
    const double steps = reading.scale == ReadingScale::ratio ? result.onScale : result.difference;
    result.points = sign * steps / reading.step;
    return result;
}

}
