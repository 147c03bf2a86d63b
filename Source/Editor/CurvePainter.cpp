#include "Editor/CurvePainter.h"

#include "Editor/DashedLine.h"
#include "Editor/PixelBrush.h"

#include <algorithm>
#include <cmath>

namespace plumbline
{

namespace
{

/** Integral of the part of a row that lies under an edge, over the edge's height above the row's bottom. */
float ramp(float t) noexcept
{
    return t <= 0.0f ? 0.0f : t >= 1.0f ? t - 0.5f : 0.5f * t * t;
}

/** How much of a row, `row`..row + 1, lies under an edge that runs straight between two heights. */
float under(float least, float most, float row) noexcept
{
    if (most - least < 1e-3f)
        return std::clamp(row + 1.0f - least, 0.0f, 1.0f);
    return (ramp(row + 1.0f - least) - ramp(row + 1.0f - most)) / (most - least);
}

/** Adds to `steps`, row by row, by how much more of a row than of the one above lies under the edge. */
void addEdge(float* steps, int firstRow, int rows, float from, float to, float weight) noexcept
{
    const float least = std::min(from, to), most = std::max(from, to);
    const int first = std::max(firstRow, wholeUnder(least));
    if (first == wholeUnder(most) && first + 1 < firstRow + rows)
    {
        // Most edges stay inside one row.
        const float here = static_cast<float>(first) + 1.0f - 0.5f * (least + most);
        steps[first - firstRow] += weight * here;
        steps[first + 1 - firstRow] += weight * (1.0f - here);
        return;
    }
    const int end = std::min(firstRow + rows, wholeUnder(most) + 2);
    float above = 0.0f;
    for (int row = first; row < end; ++row)
    {
        const float here = under(least, most, static_cast<float>(row));
        steps[row - firstRow] += weight * (here - above);
        above = here;
    }
}

/** How much of a pixel lies on one side of a line at 45 degrees that passes its middle at a distance. */
float besideDiagonal(float distance) noexcept
{
    constexpr float half = 0.70710678f; // of the pixel's diagonal
    const float d = std::clamp(distance, -half, half);
    return d < 0.0f ? (d + half) * (d + half) : 1.0f - (half - d) * (half - d);
}

/** The part of a run inside a picture's columns. */
CurveColumns::Run inside(const CurveColumns::Run& run, juce::Rectangle<int> clip)
{
    return { std::max(run.first, clip.getX()), std::min(run.end, clip.getRight()), run.known };
}

}

CurvePainter::CurvePainter(juce::Image::BitmapData& picture, juce::Rectangle<int> area,
                           const LevelToY& levels, float pxScale)
    : pixels(picture), clip(area.getIntersection({ picture.width, picture.height })), toY(levels),
      scale(pxScale)
{
    // What is far off the picture is as good as anywhere outside it.
    toY.least = static_cast<float>(clip.getY()) - 40.0f * scale;
    toY.most = static_cast<float>(clip.getBottom()) + 40.0f * scale;
}

void CurvePainter::curve(const CurveColumns& columns, const Look& look)
{
    for (const auto& whole : columns.runs)
    {
        const auto run = inside(whole, clip);
        if (run.first >= run.end || (!run.known && !look.faint))
            continue;
        if (!run.known)
            line(columns, run, look.colour, 1.0f, 0.45f * look.opacity);
        else if (look.lie == Lie::upright)
            line(columns, run, look.colour, look.width, look.opacity);
        else
        {
            line(columns, run, look.colour, 1.0f, 0.5f * look.opacity);
            dashes(columns, run, look);
        }
    }
}

void CurvePainter::line(const CurveColumns& columns, const CurveColumns::Run& run, juce::Colour colour,
                        float width, float opacity)
{
    fill(penned(bareEdges(columns, run, toY), width * scale), run.first, colour, opacity);
}

void CurvePainter::dashes(const CurveColumns& columns, const CurveColumns::Run& run, const Look& look)
{
    const DashedLine dashed(bareEdges(columns, run, toY), static_cast<float>(run.first), look.lie, scale);
    const PixelBrush brush(pixels, look.colour, look.opacity);
    dashed.draw(brush, clip.withLeft(run.first).withRight(run.end), look.width * scale);
}

void CurvePainter::band(const CurveColumns& upper, const CurveColumns& lower, juce::Colour colour,
                        float opacity)
{
    for (const auto& a : upper.runs)
        for (const auto& b : lower.runs)
        {
            const auto both = inside({ std::max(a.first, b.first), std::min(a.end, b.end), true }, clip);
            if (a.known && b.known && both.first < both.end)
                fill({ bareEdges(upper, both, toY).upper, bareEdges(lower, both, toY).lower }, both.first,
                     colour, opacity);
        }
}

void CurvePainter::fill(const FilledEdges& edges, int firstColumn, juce::Colour colour, float opacity)
{
    const PixelBrush brush(pixels, colour, opacity);
    const auto samples = edges.upper.size();
    for (std::size_t i = 0; i + 2 < samples; i += 2)
    {
        const float* up = edges.upper.data() + i;
        const float* down = edges.lower.data() + i;
        const float highest = std::min({ up[0], up[1], up[2] }),
                    lowest = std::max({ down[0], down[1], down[2] });
        const int first = std::max(clip.getY(), wholeUnder(highest));
        const int end = std::min(clip.getBottom(), wholeUnder(lowest) + 1);
        if (first >= end)
            continue;
        coverage.assign(static_cast<std::size_t>(end - first), 0.0f);
        for (int half = 0; half < 2; ++half)
        {
            addEdge(coverage.data(), first, end - first, up[half], up[half + 1], 0.5f);
            addEdge(coverage.data(), first, end - first, down[half], down[half + 1], -0.5f);
        }
        float covered = 0.0f;
        const int column = firstColumn + static_cast<int>(i / 2);
        for (int row = first; row < end; ++row)
        {
            covered += coverage[static_cast<std::size_t>(row - first)];
            if (covered > 0.002f)
                brush.at(column, row, std::min(1.0f, covered));
        }
    }
}

void CurvePainter::hatch(juce::Rectangle<int> where, juce::Colour colour, float opacity)
{
    const auto area = where.getIntersection(clip);
    const PixelBrush brush(pixels, colour, opacity);
    const float period = 8.0f * scale;
    const int from = area.getX() + area.getY(), sums = area.getWidth() + area.getHeight();
    // The lines are x + y = const; the one that starts in the lower left corner is among them.
    std::vector<float> cover(static_cast<std::size_t>(std::max(0, sums)));
    for (int i = 0; i < sums; ++i)
    {
        const auto sum = static_cast<float>(from + i + 1 - where.getX() - where.getBottom());
        const float off = std::abs(sum - period * std::round(sum / period)) / std::sqrt(2.0f);
        cover[static_cast<std::size_t>(i)] =
            besideDiagonal(off + 0.5f * scale) - besideDiagonal(off - 0.5f * scale);
    }
    for (int y = area.getY(); y < area.getBottom(); ++y)
        for (int x = area.getX(); x < area.getRight(); ++x)
            if (const float c = cover[static_cast<std::size_t>(x + y - from)]; c > 0.0f)
                brush.at(x, y, c);
}

}
