#include "Editor/CurveEdges.h"

#include <algorithm>
#include <cmath>

namespace plumbline
{

namespace
{

constexpr int directions = 8; ///< between straight up and sideways, to each side

/** The values with the first and the last repeated, so that a pen finds something beyond the ends. */
std::vector<float> padded(const std::vector<float>& values, std::size_t pad)
{
    std::vector<float> wide(values.size() + 2 * pad);
    std::fill_n(wide.begin(), pad, values.front());
    std::copy(values.begin(), values.end(), wide.begin() + static_cast<std::ptrdiff_t>(pad));
    std::fill_n(wide.end() - static_cast<std::ptrdiff_t>(pad), pad, values.back());
    return wide;
}

/** Touches `edge` with the pen's rim at one direction: the least of what is there and the rim, or the most.
    @param samples how far sideways, in samples */
template <bool least>
void touch(std::vector<float>& edge, const std::vector<float>& wide, std::size_t pad, float samples, float up)
{
    const float whole = std::floor(samples);
    const float part = samples - whole;
    const float* from = wide.data() + static_cast<std::ptrdiff_t>(pad) + static_cast<std::ptrdiff_t>(whole);
    for (std::size_t i = 0; i < edge.size(); ++i)
    {
        const float rim = from[i] + part * (from[i + 1] - from[i]) + (least ? -up : up);
        edge[i] = least ? std::min(edge[i], rim) : std::max(edge[i], rim);
    }
}

template <bool least>
std::vector<float> rolled(const std::vector<float>& bare, float radius)
{
    const auto pad = static_cast<std::size_t>(std::ceil(2.0f * radius)) + 2;
    const auto wide = padded(bare, pad);
    auto edge = bare;
    for (int k = -directions; k <= directions; ++k)
    {
        const float angle = static_cast<float>(k) * 1.57079633f / static_cast<float>(directions);
        touch<least>(edge, wide, pad, 2.0f * radius * std::sin(angle), radius * std::cos(angle));
    }
    return edge;
}

}

FilledEdges bareEdges(const CurveColumns& columns, const CurveColumns::Run& run, const LevelToY& toY)
{
    FilledEdges edges;
    const auto first = static_cast<std::size_t>(run.first - columns.firstColumn);
    const auto end = static_cast<std::size_t>(run.end - columns.firstColumn);
    for (auto* each : { &edges.upper, &edges.lower })
        each->reserve(2 * (end - first) + 1);
    const auto add = [&](float upper, float lower)
    {
        edges.upper.push_back(upper);
        edges.lower.push_back(lower);
    };
    for (auto i = first; i < end; ++i)
    {
        const float before = columns.edgeDb[i], after = columns.edgeDb[i + 1];
        const float middle = columns.middleDb[i], edge = toY(before);
        add(edge, edge);
        const bool peak = columns.highDb[i] > std::max(before, after);
        const bool hollow = columns.lowDb[i] < std::min(before, after);
        add(toY(peak ? columns.highDb[i] : middle), toY(hollow ? columns.lowDb[i] : middle));
    }
    const float edge = toY(columns.edgeDb[end]);
    add(edge, edge);
    return edges;
}

FilledEdges penned(const FilledEdges& bare, float widthPx)
{
    const float radius = widthPx / 2.0f;
    return { rolled<true>(bare.upper, radius), rolled<false>(bare.lower, radius) };
}

}
