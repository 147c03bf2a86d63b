#include "Trial/Difference.h"

#include "Dsp/MultipleTests.h"
#include "Trial/Words.h"

#include <algorithm>
#include <cmath>

namespace plumbline
{

namespace
{
constexpr std::size_t pointsPerBand = curveGrid::perOctave / 12;
constexpr double falseShare = 0.05;

/** Untouched and put-back s.d. at one point, from its values. */
struct Spreads
{
    double within = 0.0, withinFreedom = 0.0, between = 0.0, betweenFreedom = 0.0;

    Spreads(const TakeLayout& layout, const std::vector<double>& values)
    {
        for (const auto& stance : layout.stances)
        {
            std::vector<double> means;
            for (const auto& setUp : stance)
            {
                double mean = 0.0;
                for (std::size_t i = 0; i < setUp.count; ++i)
                    mean += values[setUp.first + i] / static_cast<double>(setUp.count);
                for (std::size_t i = 0; i < setUp.count; ++i)
                    within += std::pow(values[setUp.first + i] - mean, 2);
                withinFreedom += static_cast<double>(setUp.count) - 1.0;
                means.push_back(mean);
            }
            double grand = 0.0;
            for (const double mean : means)
                grand += mean / static_cast<double>(means.size());
            for (const double mean : means)
                between += std::pow(mean - grand, 2);
            betweenFreedom += static_cast<double>(means.size()) - 1.0;
        }
    }
};
}

Differences::Differences(const MatchedBoard& matched) : board(matched), facts(matched.layout())
{
    // Every fourth point of the grid from 1000 Hz: the twelfths of an octave that the curves are usually
    // smoothed to.
    const std::size_t start = static_cast<std::size_t>(-curveGrid::lowestStep) % pointsPerBand;
    for (std::size_t point = start; point < curveGrid::points; point += pointsPerBand)
        if (board.commonPoints()[point])
            bands.push_back(point);
    std::size_t sides = 0;
    for (const auto& stance : board.stances())
        sides = std::max(sides, stance.sideCount());
    models.resize(sides);
    for (std::size_t side = 0; side < sides; ++side)
        for (const auto point : bands)
            models[side].emplace_back(board.layout(), takeValues(side, point));
}

std::vector<double> Differences::takeValues(std::size_t side, std::size_t point) const
{
    std::vector<double> values;
    values.reserve(board.seatTakes().size());
    for (const auto* take : board.seatTakes())
        values.push_back(side < take->sides.size() ? take->sides[side][point] : unknownValue);
    return values;
}

std::size_t Differences::sidesOf(std::size_t a, std::size_t b) const
{
    return std::min(board.stances()[a].sideCount(), board.stances()[b].sideCount());
}

DifferenceCurve Differences::curve(std::size_t a, std::size_t b, std::size_t side) const
{
    DifferenceCurve result{ unknownCurve(), unknownCurve() };
    for (std::size_t point = 0; point < curveGrid::points; ++point)
    {
        const SpreadModel model(board.layout(), takeValues(side, point));
        const auto estimate = model.difference(a, b);
        result.differenceDb[point] = estimate.value;
        result.halfWidthDb[point] = estimate.known() ? estimate.halfWidth() : unknownValue;
    }
    return result;
}

SpreadCurves Differences::spread(std::size_t side) const
{
    SpreadCurves result{ unknownCurve(), unknownCurve(), 0.0, 0.0 };
    for (std::size_t point = 0; point < curveGrid::points; ++point)
    {
        if (!board.commonPoints()[point])
            continue;
        const Spreads spreads(board.layout(), takeValues(side, point));
        result.untouchedFreedom = spreads.withinFreedom;
        result.putBackFreedom = spreads.betweenFreedom;
        if (spreads.withinFreedom > 0.0)
            result.untouchedDb[point] = std::sqrt(spreads.within / spreads.withinFreedom);
        if (spreads.betweenFreedom > 0.0)
            result.putBackDb[point] = std::sqrt(spreads.between / spreads.betweenFreedom);
    }
    return result;
}

std::vector<DifferenceRegion> Differences::regions(std::size_t a, std::size_t b) const
{
    std::vector<double> chances, found;
    const std::size_t sides = sidesOf(a, b);
    for (std::size_t side = 0; side < sides; ++side)
        for (const auto& model : models[side])
        {
            const auto estimate = model.difference(a, b);
            chances.push_back(estimate.chanceIfNothing());
            found.push_back(estimate.value);
        }
    const auto adjusted = benjaminiHochbergAdjusted(chances);
    const auto isCalled = [&](std::size_t i) { return adjusted[i] <= falseShare; };
    std::size_t called = 0;
    for (std::size_t i = 0; i < adjusted.size(); ++i)
        called += isCalled(i) ? 1 : 0;
    const double confidence = 1.0 - falseShare * static_cast<double>(called) /
                                        static_cast<double>(std::max<std::size_t>(1, adjusted.size()));
    std::vector<DifferenceRegion> list;
    std::vector<Called> run;
    for (std::size_t side = 0; side < sides; ++side)
        for (std::size_t band = 0; band < bands.size(); ++band)
        {
            const std::size_t i = side * bands.size() + band;
            if (isCalled(i))
                run.push_back({ side, band, found[i] });
            const bool last = band + 1 == bands.size();
            const bool goesOn = !last && isCalled(i) && isCalled(i + 1) && found[i] * found[i + 1] > 0.0 &&
                                bands[band + 1] == bands[band] + pointsPerBand;
            if (!run.empty() && !goesOn)
            {
                list.push_back(describe(a, b, run, confidence));
                run.clear();
            }
        }
    return list;
}

DifferenceRegion Differences::describe(std::size_t a, std::size_t b, const std::vector<Called>& run,
                                       double confidence) const
{
    DifferenceRegion region;
    region.a = a;
    region.b = b;
    region.side = run.front().side;
    const double half = std::exp2(1.0 / 24.0);
    region.fromHz = curveGrid::frequencyHz(bands[run.front().band]) / half;
    region.toHz = curveGrid::frequencyHz(bands[run.back().band]) * half;
    // The mean over the region is formed inside each take, so that what hangs together between bands is kept.
    std::vector<double> means(board.seatTakes().size(), 0.0);
    for (const auto& at : run)
    {
        const auto values = takeValues(region.side, bands[at.band]);
        for (std::size_t i = 0; i < means.size(); ++i)
            means[i] += values[i] / static_cast<double>(run.size());
        if (std::abs(at.difference) > std::abs(region.peakDb))
        {
            region.peakDb = at.difference;
            region.peakHz = curveGrid::frequencyHz(bands[at.band]);
        }
    }
    const auto estimate = SpreadModel(board.layout(), means).difference(a, b);
    region.differenceDb = estimate.value;
    region.plusMinusDb = estimate.halfWidth(confidence);
    region.basis = estimate.basis;
    region.firm = facts.firm(a, b);
    return region;
}

std::string regionWords(const DifferenceRegion& region, const MatchedBoard& board)
{
    const auto &a = board.stances()[region.a], &b = board.stances()[region.b];
    auto text = rangeName(region.fromHz, region.toHz) + ": " +
                withPlusMinus(std::abs(region.differenceDb), region.plusMinusDb, "dB") +
                (region.differenceDb < 0.0 ? " lower " : " higher ") +
                saidAgainst(a.data->stance, b.data->stance);
    if (a.sideCount() == 2)
        text += region.side == 0 ? ", left" : ", right";
    return text;
}

}
