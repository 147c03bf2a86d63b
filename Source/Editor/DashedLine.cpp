#include "Editor/DashedLine.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <iterator>

namespace plumbline
{

namespace
{

using Place = juce::Point<float>;

/** Dash, gap, dash, gap, in px of the window. */
std::array<float, 4> patternOf(Lie lie)
{
    switch (lie)
    {
    case Lie::sideIn:
        return { 2.0f, 4.0f, 2.0f, 4.0f };
    case Lie::ownWords:
        return { 10.0f, 4.0f, 2.0f, 4.0f };
    case Lie::upright:
    case Lie::sideOut:
        break;
    }
    return { 9.0f, 4.0f, 9.0f, 4.0f };
}

/** The curve's course: through each sample, and through the peak or the hollow where edges part. */
std::vector<Place> courseOf(const FilledEdges& bare, float firstX)
{
    std::vector<Place> course;
    course.reserve(bare.upper.size());
    float y = bare.upper.front();
    for (std::size_t i = 0; i < bare.upper.size(); ++i)
    {
        const bool upperIsFarther = std::abs(bare.upper[i] - y) >= std::abs(bare.lower[i] - y);
        y = upperIsFarther ? bare.upper[i] : bare.lower[i];
        course.push_back({ firstX + 0.5f * static_cast<float>(i), y });
    }
    return course;
}

/** Distance of a pixel's middle to a piece of line. */
float distanceTo(Place pixel, Place from, Place to) noexcept
{
    const auto along = to - from, away = pixel - from;
    const float length = along.x * along.x + along.y * along.y;
    const float part =
        length > 0.0f ? std::clamp((away.x * along.x + away.y * along.y) / length, 0.0f, 1.0f) : 0.0f;
    const auto off = away - along * part;
    return std::sqrt(off.x * off.x + off.y * off.y);
}

/** The first point of a dash, counted from an end, that lies clearly inward of it. */
template <class Point>
Place inwardOf(Point end, Point last)
{
    constexpr float clear = 0.2f; // nearer ones tell no direction
    auto inner = end;
    while (inner != last && inner->getDistanceFrom(*end) < clear)
        ++inner;
    return inner != last ? *inner : *std::prev(last);
}

/** How much of a pixel lies on the inner side of a dash's straight end. */
float insideEnd(Place pixel, Place end, Place inner) noexcept
{
    const auto inward = inner - end;
    const float length = std::max(1e-6f, std::hypot(inward.x, inward.y));
    const auto away = pixel - end;
    return std::clamp((away.x * inward.x + away.y * inward.y) / length + 0.5f, 0.0f, 1.0f);
}

/** Coverage of the pixels about one dash. */
struct Patch
{
    juce::Rectangle<int> area;
    std::vector<float> cover;

    float& at(int x, int y)
    {
        return cover[static_cast<std::size_t>((y - area.getY()) * area.getWidth() + x - area.getX())];
    }

    template <class Visit>
    void within(juce::Rectangle<int> part, Visit&& visit)
    {
        const auto here = part.getIntersection(area);
        for (int y = here.getY(); y < here.getBottom(); ++y)
            for (int x = here.getX(); x < here.getRight(); ++x)
                visit(x, y, Place(static_cast<float>(x) + 0.5f, static_cast<float>(y) + 0.5f), at(x, y));
    }
};

juce::Rectangle<int> around(Place a, Place b, float reach)
{
    return juce::Rectangle<int>::leftTopRightBottom(
        wholeUnder(std::min(a.x, b.x) - reach), wholeUnder(std::min(a.y, b.y) - reach),
        wholeUnder(std::max(a.x, b.x) + reach) + 1, wholeUnder(std::max(a.y, b.y) + reach) + 1);
}

}

DashedLine::DashedLine(const FilledEdges& bare, float firstX, Lie lie, float scale)
    : round(lie == Lie::sideIn)
{
    const auto pattern = patternOf(lie);
    const auto course = courseOf(bare, firstX);
    std::size_t part = 0;
    float left = pattern[0] * scale; // of the dash or gap that we are in
    dashes.push_back({ course.front() });
    for (std::size_t i = 0; i + 1 < course.size(); ++i)
    {
        auto from = course[i];
        float length = from.getDistanceFrom(course[i + 1]);
        while (length > left)
        {
            from += (course[i + 1] - from) * (left / length);
            length -= left;
            if (part % 2 == 0)
                dashes.back().push_back(from);
            part = (part + 1) % pattern.size();
            left = pattern[part] * scale;
            if (part % 2 == 0)
                dashes.push_back({ from });
        }
        left -= length;
        if (part % 2 == 0)
            dashes.back().push_back(course[i + 1]);
    }
}

void DashedLine::draw(const PixelBrush& brush, juce::Rectangle<int> clip, float widthPx) const
{
    for (const auto& dash : dashes)
        if (dash.size() > 1)
            drawDash(dash, brush, clip, widthPx / 2.0f);
}

void DashedLine::drawDash(const Dash& dash, const PixelBrush& brush, juce::Rectangle<int> clip,
                          float radius) const
{
    const float reach = radius + 0.5f; // beyond it nothing is covered
    Patch patch;
    for (std::size_t i = 0; i + 1 < dash.size(); ++i)
        patch.area = patch.area.getUnion(around(dash[i], dash[i + 1], reach));
    patch.area = patch.area.getIntersection(clip);
    if (patch.area.isEmpty())
        return;
    patch.cover.assign(static_cast<std::size_t>(patch.area.getWidth() * patch.area.getHeight()), 0.0f);
    for (std::size_t i = 0; i + 1 < dash.size(); ++i)
        patch.within(around(dash[i], dash[i + 1], reach),
                     [&](int, int, Place pixel, float& cover)
                     {
                         const float off = distanceTo(pixel, dash[i], dash[i + 1]);
                         cover = std::max(cover, std::clamp(radius + 0.5f - off, 0.0f, 1.0f));
                     });
    if (!round)
        for (const auto& [end, inner] : { std::pair(dash.front(), inwardOf(dash.begin(), dash.end())),
                                          std::pair(dash.back(), inwardOf(dash.rbegin(), dash.rend())) })
            patch.within(around(end, end, 2.0f * reach + 1.0f),
                         [&, e = end, in = inner](int, int, Place pixel, float& cover)
                         { cover *= insideEnd(pixel, e, in); });
    patch.within(patch.area,
                 [&](int x, int y, Place, float& cover)
                 {
                     if (cover > 0.0f)
                         brush.at(x, y, cover);
                 });
}

}
