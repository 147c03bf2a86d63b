#include "Trial/Order.h"

#include "Dsp/Random.h"
#include "Dsp/Statistics.h"
#include "Dsp/StudentisedRange.h"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace plumbline
{

namespace
{
constexpr int redraws = 4000;
constexpr std::uint64_t redrawSeed = 20240229; // the same takes always give the same words

bool knownOfAll(const std::vector<double>& points)
{
    return !points.empty() &&
           std::all_of(points.begin(), points.end(), [](double x) { return std::isfinite(x); });
}

std::vector<double> addUp(const MatchedBoard& board, const std::vector<Reading>& readings,
                          const std::vector<ReadingEstimate>& estimates, const ReadingWeights& weights,
                          std::vector<std::size_t>& counted)
{
    std::vector<double> total(board.seatTakes().size(), 0.0);
    for (std::size_t i = 0; i < readings.size(); ++i)
    {
        const auto& points = estimates[i].pointsOfTakes();
        const double weight = weightOf(readings[i], weights);
        if (!readings[i].hasBetterSide() || weight == 0.0 || !knownOfAll(points))
            continue;
        counted.push_back(i);
        for (std::size_t take = 0; take < total.size(); ++take)
            total[take] += weight * points[take];
    }
    return total;
}

void redraw(StanceOrder& order, const SpreadModel& model, std::size_t count)
{
    const auto common = model.common();
    order.ahead.assign(count, std::vector<double>(count, unknownValue));
    if (!std::isfinite(common.variance))
        return;
    for (auto& row : order.ahead)
        std::fill(row.begin(), row.end(), 0.0);
    Random random(redrawSeed);
    std::vector<double> first(count, 0.0), drawn(count), means(count);
    for (std::size_t s = 0; s < count; ++s)
        means[s] = model.mean(s).value;
    for (int i = 0; i < redraws; ++i)
    {
        const double variance =
            common.variance * common.degreesOfFreedom / drawChiSquare(random, common.degreesOfFreedom);
        for (std::size_t s = 0; s < count; ++s)
            drawn[s] = means[s] + std::sqrt(variance / model.dataOf(s)) * random.normal();
        first[static_cast<std::size_t>(std::max_element(drawn.begin(), drawn.end()) - drawn.begin())] +=
            1.0 / redraws;
        for (std::size_t a = 0; a < count; ++a)
            for (std::size_t b = 0; b < count; ++b)
                order.ahead[a][b] += drawn[a] > drawn[b] ? 1.0 / redraws : 0.0;
    }
    for (auto& place : order.places)
        place.firstShare = first[place.stance];
}

void tie(StanceOrder& order, const SpreadModel& model)
{
    const auto common = model.common();
    const bool known = std::isfinite(common.variance);
    const double range =
        known && order.places.size() > 1
            ? studentisedRangeQuantile(0.95, static_cast<int>(order.places.size()), common.degreesOfFreedom)
            : unknownValue;
    const auto margin = [&](std::size_t a, std::size_t b)
    { return range * std::sqrt(0.5 * common.variance * (1.0 / model.dataOf(a) + 1.0 / model.dataOf(b))); };
    for (auto& place : order.places)
    {
        if (place.stance != order.places.front().stance)
            place.plusMinus = margin(place.stance, order.places.front().stance);
        for (const auto& other : order.places)
            if (other.stance != place.stance &&
                !(std::abs(other.pointsBehind - place.pointsBehind) > margin(place.stance, other.stance)))
                place.tiedWith.push_back(other.stance);
    }
}
}

double weightOf(const Reading& reading, const ReadingWeights& weights)
{
    const auto asked = weights.find(reading.name);
    return asked == weights.end() ? reading.weight : asked->second;
}

StanceOrder orderOf(const MatchedBoard& board, const std::vector<Reading>& readings,
                    const std::vector<ReadingEstimate>& estimates, const ReadingWeights& weights)
{
    StanceOrder order;
    const std::size_t count = board.stances().size();
    if (count == 0)
        return order;
    const SpreadModel model(board.layout(), addUp(board, readings, estimates, weights, order.counted));
    std::vector<std::size_t> places(count);
    std::iota(places.begin(), places.end(), std::size_t{ 0 });
    std::stable_sort(places.begin(), places.end(),
                     [&](std::size_t a, std::size_t b) { return model.mean(a).value > model.mean(b).value; });
    for (const auto stance : places)
    {
        auto& place = order.places.emplace_back();
        place.stance = stance;
        place.pointsBehind = model.mean(places.front()).value - model.mean(stance).value;
    }
    tie(order, model);
    redraw(order, model, count);
    return order;
}

}
