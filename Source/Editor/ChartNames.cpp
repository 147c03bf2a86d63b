#include "Editor/ChartNames.h"

#include "Editor/ChartWords.h"
#include "Editor/LineEnds.h"

#include <algorithm>
#include <cmath>

namespace plumbline
{

namespace
{

constexpr float small = 12.5f, usual = 13.0f;

/** The plot's edges in px of the chart's own place. */
struct Edges
{
    explicit Edges(const ChartScale& scale)
        : left(static_cast<float>(scale.area().left)), top(static_cast<float>(scale.area().top)),
          right(static_cast<float>(scale.area().right())), bottom(static_cast<float>(scale.area().bottom()))
    {
    }

    float left, top, right, bottom;
};

void writeReasons(const Ink& ink, const ChartTask& task, const std::vector<UnknownRange>& unknown)
{
    const Edges plot(task.scale);
    for (const auto& range : unknown)
    {
        const auto words = chartWords::reason(range);
        const auto from = static_cast<float>(task.scale.x(range.fromHz));
        const auto to = static_cast<float>(task.scale.x(range.toHz));
        const auto needs = textWidth(words, small, Weight::semibold) + 14.0f;
        const auto write = [&](float x, Ink::Anchor anchor)
        { ink.textOnPlot(x, plot.top + 16.0f, words, small, task.palette.second, Weight::semibold, anchor); };
        if (to - from > needs)
            write((from + to) / 2.0f, Ink::Anchor::middle);
        else if (to + needs < plot.right)
            write(to + 8.0f, Ink::Anchor::start);
        else
            write(from - 8.0f, Ink::Anchor::end);
    }
}

/** Where the noise's own words stand: beside the place where it sinks out of the plot, or over it. */
void writeNoise(const Ink& ink, const ChartTask& task)
{
    const auto& curve = task.content.curves.newest->left;
    const Edges plot(task.scale);
    const auto wide = textWidth(chartWords::noise(), usual, Weight::semibold);
    float x = 0.0f, y = plot.bottom - 17.0f;
    bool seen = false, gone = false;
    for (std::size_t i = 0; i < curve.noiseDb.size() && !gone; ++i)
    {
        const bool inside = curve.noiseDb[i] > task.scale.bottom() && std::isfinite(curve.noiseDb[i]);
        gone = seen && !inside;
        seen = seen || inside;
        x = static_cast<float>(task.scale.x(curve.frequencyHz[i])) + 10.0f;
    }
    if (!seen)
        return;
    if (!gone || x + wide > plot.right - 8.0f)
    {
        x = plot.left + 0.4f * (plot.right - plot.left);
        for (std::size_t i = 0; i < curve.noiseDb.size(); ++i)
            if (const auto at = static_cast<float>(task.scale.x(curve.frequencyHz[i]));
                at > x && at < x + wide && std::isfinite(curve.noiseDb[i]))
                y = std::min(y, static_cast<float>(task.scale.y(curve.noiseDb[i])) - 8.0f);
    }
    ink.textOnPlot(x, std::max(y, plot.top + 36.0f), chartWords::noise(), usual, task.palette.second,
                   Weight::semibold);
}

struct Name
{
    juce::Point<float> end; ///< of its line
    juce::String words;
    bool marked = true;
};

std::optional<juce::Point<float>> endOf(const FrequencyResponse& curve, const ChartScale& scale)
{
    const Edges plot(scale);
    for (auto i = curve.levelDb.size(); i-- > 0;)
        if (std::isfinite(curve.levelDb[i]))
            return juce::Point<float>(
                std::min(static_cast<float>(scale.x(curve.frequencyHz[i])), plot.right) + 2.0f,
                std::clamp(static_cast<float>(scale.y(curve.levelDb[i])), plot.top, plot.bottom));
    return std::nullopt;
}

std::vector<Name> namesOf(const ChartTask& task)
{
    std::vector<Name> names;
    const auto& newest = *task.content.curves.newest;
    if (const auto at = endOf(newest.left, task.scale))
        names.push_back({ *at, chartWords::lineEnd(newest, true) });
    if (newest.right)
        if (const auto at = endOf(*newest.right, task.scale))
            names.push_back({ *at, chartWords::lineEnd(newest, false) });
    if (const auto* before = task.content.curves.before.get())
        if (auto at = endOf(before->left, task.scale))
        {
            if (before->right)
                if (const auto other = endOf(*before->right, task.scale))
                    at->y = (at->y + other->y) / 2.0f;
            names.push_back({ *at, chartWords::band(newest, *before), false });
        }
    std::stable_sort(names.begin(), names.end(),
                     [](const Name& a, const Name& b) { return a.end.y < b.end.y; });
    return names;
}

void writeLineEnds(const Ink& ink, const ChartTask& task)
{
    const Edges plot(task.scale);
    const auto names = namesOf(task);
    std::vector<WantedPlace> wanted;
    for (const auto& name : names)
        wanted.push_back({ name.end.y, 18.0f });
    const auto places = pushedApart(wanted, task.namesTop, task.namesBottom);
    const auto x = ChartPicture::namesLeft;
    for (std::size_t i = 0; i < names.size(); ++i)
    {
        juce::Path leader;
        leader.startNewSubPath(names[i].end);
        if (names[i].end.x < plot.right)
            leader.lineTo(plot.right + 2.0f, names[i].end.y);
        leader.lineTo(plot.right + 10.0f, places[i]);
        leader.lineTo(x - (names[i].marked ? 14.0f : 4.0f), places[i]);
        ink.stroke(leader, task.palette.ink, 1.0f);
        if (names[i].marked)
            ink.mark(x - 8.0f, places[i], task.content.monitorRow,
                     task.palette.monitor(task.content.monitorRow), 3.8f);
        ink.text(x, places[i] + 5.0f, names[i].words, names[i].marked ? 14.0f : usual,
                 names[i].marked ? task.palette.ink : task.palette.second, Weight::semibold);
    }
}

}

void writeNames(const Ink& ink, const ChartTask& task, const std::vector<UnknownRange>& unknown)
{
    const Edges plot(task.scale);
    writeReasons(ink, task, unknown);
    writeNoise(ink, task);
    if (!task.content.curves.newest->levelIsSpl)
        ink.textOnPlot(plot.right - 8.0f, plot.bottom - 9.0f, chartWords::relativeLevel(), small,
                       task.palette.third, Weight::semibold, Ink::Anchor::end);
    writeLineEnds(ink, task);
}

}
