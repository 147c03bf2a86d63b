#include "Dsp/StudentisedRange.h"

#include "Dsp/Statistics.h"

#include <array>
#include <cmath>
#include <numbers>
#include <vector>

namespace plumbline
{

namespace
{
constexpr int order = 20;

struct Rule
{
    std::array<double, order> place{}, weight{};
};

/** Gauss-Legendre on -1..1: zeros of the Legendre polynomial by Newton's method (DLMF 3.5.16). */
Rule makeRule()
{
    Rule rule;
    for (int i = 0; i < order; ++i)
    {
        double x = std::cos(std::numbers::pi * (i + 0.75) / (order + 0.5)), slope = 1.0;
        for (int step = 0; step < 50; ++step)
        {
            double former = 1.0, value = x;
            for (int k = 2; k <= order; ++k)
            {
                const double next = ((2 * k - 1) * x * value - (k - 1) * former) / k;
                former = value;
                value = next;
            }
            slope = order * (x * value - former) / (x * x - 1.0);
            x -= value / slope;
        }
        rule.place[static_cast<std::size_t>(i)] = x;
        rule.weight[static_cast<std::size_t>(i)] = 2.0 / ((1.0 - x * x) * slope * slope);
    }
    return rule;
}

struct Node
{
    double place, weight;
};

std::vector<Node> nodes(double from, double to, int panels)
{
    static const Rule rule = makeRule();
    std::vector<Node> list;
    const double half = 0.5 * (to - from) / panels;
    for (int panel = 0; panel < panels; ++panel)
        for (std::size_t i = 0; i < order; ++i)
            list.push_back({ from + half * (2 * panel + 1 + rule.place[i]), half * rule.weight[i] });
    return list;
}

/** Chance that the range of `groups` normal deviates is at most w: the lowest lies at z, all others within
    w of it. */
double rangeCdf(double w, int groups, const std::vector<Node>& lowest)
{
    double sum = 0.0;
    for (const auto& node : lowest)
        sum += node.weight * normalDensity(node.place) *
               std::pow(normalCdf(node.place + w) - normalCdf(node.place), groups - 1);
    return groups * sum;
}
}

double studentisedRangeCdf(double q, int groups, double df)
{
    if (!(q > 0.0))
        return 0.0;
    static const auto lowest = nodes(-8.5, 8.5, 8);
    // The estimate s has df s^2 as chi-square; over ln s, so that few degrees of freedom are no harder.
    const double from = 0.5 * std::log(chiSquareQuantile(1e-12, df) / df);
    const double to = 0.5 * std::log(2.0 + 60.0 / df + 16.0 / std::sqrt(df));
    double sum = 0.0, mass = 0.0;
    const int panels = 2 + static_cast<int>(to - from);
    for (const auto& node : nodes(from, to, panels))
    {
        const double square = std::exp(2.0 * node.place);
        // density of ln s, up to a constant: s^df exp(-df s^2 / 2), scaled to 1 at s = 1
        const double density = std::exp(df * node.place - 0.5 * df * (square - 1.0));
        mass += node.weight * density;
        sum += node.weight * density * rangeCdf(q * std::exp(node.place), groups, lowest);
    }
    return sum / mass;
}

double studentisedRangeQuantile(double p, int groups, double df)
{
    double low = 0.0, high = 2.0;
    while (studentisedRangeCdf(high, groups, df) < p)
    {
        low = high;
        high *= 2.0;
    }
    double atLow = studentisedRangeCdf(low, groups, df) - p,
           atHigh = studentisedRangeCdf(high, groups, df) - p;
    // Regula falsi after Dowell and Jarratt (Illinois): the end that stays is halved.
    for (int step = 0; step < 100 && std::abs(high - low) > 1e-8 * high; ++step)
    {
        const double q = high - atHigh * (high - low) / (atHigh - atLow);
        const double at = studentisedRangeCdf(q, groups, df) - p;
        if (std::abs(at) < 1e-11)
            return q;
        if ((at < 0.0) == (atHigh < 0.0))
            atLow *= 0.5;
        else
        {
            low = high;
            atLow = atHigh;
        }
        high = q;
        atHigh = at;
    }
    return high;
}

}
