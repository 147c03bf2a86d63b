#include "Dsp/MultipleTests.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace plumbline
{

namespace
{
/** Places of the numbers among `p`, smallest first. */
std::vector<std::size_t> ascending(std::span<const double> p)
{
    std::vector<std::size_t> order;
    for (std::size_t i = 0; i < p.size(); ++i)
        if (!std::isnan(p[i]))
            order.push_back(i);
    std::sort(order.begin(), order.end(), [&](auto a, auto b) { return p[a] < p[b]; });
    return order;
}
}

std::vector<double> holmAdjusted(std::span<const double> p)
{
    std::vector<double> adjusted(p.begin(), p.end());
    const auto order = ascending(p);
    double floor = 0.0;
    for (std::size_t k = 0; k < order.size(); ++k)
    {
        floor = std::max(floor, std::min(1.0, static_cast<double>(order.size() - k) * p[order[k]]));
        adjusted[order[k]] = floor;
    }
    return adjusted;
}

std::vector<double> benjaminiHochbergAdjusted(std::span<const double> p)
{
    std::vector<double> adjusted(p.begin(), p.end());
    const auto order = ascending(p);
    const double count = static_cast<double>(order.size());
    double ceiling = 1.0;
    for (std::size_t k = order.size(); k-- > 0;)
    {
        ceiling = std::min(ceiling, count * p[order[k]] / static_cast<double>(k + 1));
        adjusted[order[k]] = ceiling;
    }
    return adjusted;
}

}
