#include "Editor/TimeLine.h"

#include "Editor/Figures.h"

#include <algorithm>
#include <cmath>

namespace plumbline
{

namespace
{

constexpr auto lineLeft = static_cast<float>(place::plotLeft),
               lineRight = static_cast<float>(place::plotRight);
constexpr float lineTop = 15.0f, lineHeight = 10.0f, nameBaseline = 9.0f, lengthBaseline = 24.0f;

juce::String lengthWords(double seconds)
{
    return juce::String(seconds, 1) + said("\u00a0s in one stream");
}

juce::String summaryOf(const std::vector<TimeLine::Stretch>& stretches, double totalSeconds)
{
    juce::StringArray parts;
    for (const auto& each : stretches)
        parts.add(juce::String(each.name) + " " + juce::String(each.toSeconds - each.fromSeconds, 1) +
                  said("\u00a0s"));
    return parts.joinIntoString(", ") + "; " + lengthWords(totalSeconds) + ".";
}

}

std::vector<TimeLine::Stretch> TimeLine::stretchesOf(const TakeTimes& times)
{
    std::vector<Stretch> all;
    const auto add = [&](const char* name, double seconds)
    {
        const double from = all.empty() ? 0.0 : all.back().toSeconds;
        all.push_back({ name, from, from + std::max(0.0, seconds) });
    };
    add("quiet", times.quietSeconds);
    add(times.pair ? "left" : "sweep", times.sweepSeconds);
    add(times.pair ? "rest" : "tail", times.restSeconds);
    if (times.pair)
    {
        add("right", times.sweepSeconds);
        add("tail", times.tailSeconds);
    }
    return all;
}

TimeLine::TimeLine(WindowContext& windowContext) : Part(windowContext)
{
    setTitle("The take in time");
    setInterceptsMouseClicks(false, false);
    viewChanged();
}

void TimeLine::viewChanged()
{
    stretches = stretchesOf(view().times);
    totalSeconds = std::max(1e-3, view().times.totalSeconds());
    setDescription(summaryOf(stretches, totalSeconds));
    filledTo = xOf(elapsed());
    named = playing();
    phase = context.live.phase;
    repaint();
}

float TimeLine::xOf(double seconds) const
{
    const auto part = static_cast<float>(std::clamp(seconds / totalSeconds, 0.0, 1.0));
    return lineLeft + (lineRight - lineLeft) * part;
}

double TimeLine::elapsed() const
{
    using enum LiveState::Phase;
    const auto now = context.live.phase;
    return now == taking || now == stopping || now == analysing ? context.live.elapsedSeconds : 0.0;
}

int TimeLine::playing() const
{
    if (context.live.phase != LiveState::Phase::taking)
        return -1;
    for (std::size_t i = 0; i < stretches.size(); ++i)
        if (elapsed() >= stretches[i].fromSeconds && elapsed() < stretches[i].toSeconds)
            return static_cast<int>(i);
    return -1;
}

void TimeLine::liveChanged()
{
    const bool changed = phase != context.live.phase;
    skip = !changed && !skip;
    if (skip)
        return;
    phase = context.live.phase;
    refresh();
}

void TimeLine::refresh()
{
    const auto before = filledTo;
    filledTo = xOf(elapsed());
    // Under a quarter of a pixel nothing is to be seen yet.
    if (std::abs(filledTo - before) < 0.25f)
        filledTo = before;
    else
        repaint(juce::Rectangle<float>::leftTopRightBottom(std::min(before, filledTo) - 1.0f, lineTop,
                                                           std::max(before, filledTo) + 1.0f,
                                                           lineTop + lineHeight)
                    .getSmallestIntegerContainer());
    if (const auto now = playing(); now != named)
    {
        named = now;
        repaint(0, 0, width, static_cast<int>(lineTop) - 1);
    }
}

void TimeLine::paint(juce::Graphics& g)
{
    const auto drawn = ink(g);
    g.setColour(palette().rule);
    g.fillRect(juce::Rectangle<float>(lineLeft, lineTop, lineRight - lineLeft, lineHeight));
    g.setColour(palette().ink);
    g.fillRect(juce::Rectangle<float>(lineLeft, lineTop, filledTo - lineLeft, lineHeight));
    const auto nameOf = [&](std::size_t i) { return juce::String(stretches[i].name); };
    const auto startOf = [&](std::size_t i)
    { return xOf(stretches[i].fromSeconds) + (i == 0 ? 0.0f : 2.0f); };
    float taken = 0.0f; // up to here a name stands already
    for (std::size_t i = 0; i < stretches.size(); ++i)
    {
        const auto x = startOf(i);
        if (i > 0)
        {
            g.setColour(palette().ground);
            g.fillRect(juce::Rectangle<float>(x - 3.0f, lineTop, 2.0f, lineHeight));
        }
        const bool now = static_cast<int>(i) == named;
        const auto end = x + textWidth(nameOf(i), 13.0f, Weight::semibold) + 6.0f;
        const bool last = i + 1 == stretches.size();
        if (x < taken || (!now && !last && end > startOf(i + 1)))
            continue; // too short for its name
        drawn.text(x, nameBaseline, nameOf(i), 13.0f, now ? palette().ink : palette().second,
                   Weight::semibold);
        taken = end;
    }
    drawn.text(static_cast<float>(place::besidePlot), lengthBaseline, lengthWords(totalSeconds), 13.0f,
               palette().second, Weight::semibold);
}

}
