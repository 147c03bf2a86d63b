#include "Editor/PlumbLine.h"

#include "Editor/ChartWords.h"
#include "Editor/LineEnds.h"

#include <algorithm>
#include <cmath>

namespace plumbline
{

namespace
{

constexpr float size = 13.0f, lead = 18.0f, aside = 11.0f;

float wide(const juce::String& words)
{
    return textWidth(words, size, Weight::semibold);
}

}

PlumbLine::PlumbLine(const ChartPicture& chart, double frequency)
    : hz(frequency), plot(chart.scale().area()), x(static_cast<float>(chart.scale().x(frequency))),
      frequencyWords(chartWords::frequency(frequency))
{
    const auto& take = *chart.content().curves.newest;
    const auto add = [&](const FrequencyResponse& response, bool left)
    {
        const auto level = knownLevelAt(viewOf(response), hz);
        Value value;
        value.words =
            (chartWords::side(take, left) + " " + chartWords::level(level, take.levelIsSpl)).trimStart();
        if (level)
            value.y = static_cast<float>(chart.scale().y(*level));
        rows.push_back(value);
    };
    add(take.left, true);
    if (take.right)
        add(*take.right, false);
    placeLabel(chart);
    placeValues(chart);
}

void PlumbLine::placeValues(const ChartPicture& chart)
{
    const auto top = static_cast<float>(plot.top), bottom = static_cast<float>(plot.bottom());
    std::vector<std::size_t> order(rows.size());
    for (std::size_t i = 0; i < order.size(); ++i)
        order[i] = i;
    const auto wantedOf = [&](std::size_t i) { return rows[i].y.value_or(top + 36.0f); };
    std::stable_sort(order.begin(), order.end(), [&](auto a, auto b) { return wantedOf(a) < wantedOf(b); });
    std::vector<WantedPlace> wanted;
    for (const auto i : order)
        wanted.push_back({ wantedOf(i), lead });
    const auto places = pushedApart(wanted, top + 8.0f, bottom - 10.0f);
    for (std::size_t k = 0; k < order.size(); ++k)
        rows[order[k]].baseline = places[k] + 4.5f;

    const auto fits = [&](bool right)
    {
        return std::all_of(rows.begin(), rows.end(),
                           [&](const Value& value)
                           {
                               const auto box = boxOf(value, right);
                               return box.getX() >= static_cast<float>(plot.left) &&
                                      box.getRight() <= static_cast<float>(plot.right());
                           });
    };
    toRight = fits(true) && (!fits(false) || covered(chart, true) <= covered(chart, false));
}

/** How much of the curves the values would cover on that side, in steps of 4 px. */
int PlumbLine::covered(const ChartPicture& chart, bool right) const
{
    int count = 0;
    for (const auto& view : viewsOf(*chart.content().curves.newest))
        for (const auto& value : rows)
        {
            const auto box = boxOf(value, right);
            for (float at = box.getX(); at < box.getRight(); at += 4.0f)
                if (const auto level = knownLevelAt(view, chart.scale().frequency(static_cast<double>(at))))
                    if (const auto y = static_cast<float>(chart.scale().y(*level));
                        y > box.getY() && y < box.getBottom())
                        ++count;
        }
    return count;
}

juce::Rectangle<float> PlumbLine::boxOf(const Value& value, bool right) const
{
    const auto width = wide(value.words);
    const auto left = right ? x + aside : x - aside - width;
    return { left - 4.0f, value.baseline - size * 0.8f, width + 8.0f, size * 1.1f };
}

void PlumbLine::placeLabel(const ChartPicture& chart)
{
    const auto boxAbout = [&](float middle, const juce::String& words)
    {
        const auto width = wide(words) + 8.0f;
        return juce::Rectangle<float>(middle - width / 2.0f, static_cast<float>(plot.bottom()) + 8.0f, width,
                                      24.0f);
    };
    const auto label = labelBox = boxAbout(x, frequencyWords);
    for (const double f : octaves)
        if (const auto figure = boxAbout(static_cast<float>(chart.scale().x(f)), octaveFigure(f));
            figure.intersects(label))
            labelBox = labelBox.getUnion(figure);
}

std::vector<juce::Rectangle<int>> PlumbLine::areas() const
{
    const auto whole = [](juce::Rectangle<float> area)
    { return area.expanded(1.0f).getSmallestIntegerContainer(); };
    std::vector<juce::Rectangle<int>> all{ whole(
        { x - 5.0f, static_cast<float>(plot.top) - 5.0f, 10.0f, static_cast<float>(plot.height) + 18.0f }) };
    all.push_back(whole(labelBox));
    for (const auto& value : rows)
        all.push_back(whole(boxOf(value, toRight)));
    return all;
}

void PlumbLine::paint(const Ink& ink, juce::Colour colour) const
{
    const auto& palette = ink.colours();
    const auto bottom = static_cast<float>(plot.bottom());
    ink.plate(labelBox, palette.ground, 0.0f); // a figure of the axis must not look out from behind
    ink.line(x, static_cast<float>(plot.top), x, bottom, palette.ink, 1.0f);
    ink.bob(x, bottom, 7.0f);
    ink.text(x, bottom + 27.0f, frequencyWords, size, palette.ink, Weight::semibold, Ink::Anchor::middle);
    auto& g = ink.graphics();
    for (const auto& value : rows)
    {
        if (value.y && *value.y >= static_cast<float>(plot.top) && *value.y <= bottom)
        {
            const juce::Rectangle<float> ring(x - 3.4f, *value.y - 3.4f, 6.8f, 6.8f);
            g.setColour(palette.ground);
            g.fillEllipse(ring);
            g.setColour(colour);
            g.drawEllipse(ring, 1.8f);
        }
        ink.textOnPlot(toRight ? x + aside : x - aside, value.baseline, value.words, size, palette.ink,
                       Weight::semibold, toRight ? Ink::Anchor::start : Ink::Anchor::end);
    }
}

}
