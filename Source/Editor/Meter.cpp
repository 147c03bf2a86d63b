#include "Editor/Meter.h"

#include "Editor/Figures.h"

#include <algorithm>
#include <cmath>

namespace plumbline
{

namespace
{

constexpr float feedsPerSecond = 30.0f, fallPerFeed = 20.0f / feedsPerSecond;
constexpr int holdFeeds = 45, clipFeeds = 90;
constexpr float nothingAtAll = -150.0f; ///< under the least that 24 bits can hold
constexpr float fullScale = -0.005f;    ///< the largest value of 16 bits lies 0.0003 dB under it
constexpr float lineX = Meter::lineFromLeft, lineY = Meter::lineFromTop;
constexpr float lineWidth = Meter::width - 2 * Meter::lineFromLeft;
constexpr float nameBaseline = 10.0f;

float xOf(float dbfs)
{
    return lineX +
           lineWidth * (std::clamp(dbfs, Meter::lowestDbfs, 0.0f) - Meter::lowestDbfs) / -Meter::lowestDbfs;
}

juce::String figure(int dbfs)
{
    return (dbfs < 0 ? said("−") : juce::String()) + juce::String(std::abs(dbfs));
}

/** The value for ears: asked for, never announced by itself. */
class MeterReading final : public juce::AccessibilityTextValueInterface
{
public:
    explicit MeterReading(const Meter& readMeter) : meter(readMeter) {}

    bool isReadOnly() const override { return true; }

    juce::String getCurrentValueAsString() const override { return meter.value(); }

    void setValueAsString(const juce::String&) override {}

private:
    const Meter& meter;
};

}

Meter::Meter(WindowContext& windowContext, const juce::String& whatIsMetered)
    : Part(windowContext), name(whatIsMetered)
{
    setTitle(name);
    setInterceptsMouseClicks(false, false);
    seen = look();
}

void Meter::reset()
{
    now = held = -200.0f;
    silent = true;
    heldFeeds = clippedFeeds = 0;
    refresh();
}

void Meter::feed(float peakDbfs)
{
    const float peak = std::isfinite(peakDbfs) ? peakDbfs : peakDbfs > 0.0f ? 0.0f : -200.0f;
    silent = peak <= nothingAtAll;
    now = std::max(peak, now - fallPerFeed);
    heldFeeds = std::max(0, heldFeeds - 1);
    if (heldFeeds == 0)
        held = std::max(now, held - fallPerFeed);
    if (peak >= held)
    {
        held = peak;
        heldFeeds = holdFeeds;
    }
    const bool clippedBefore = clippedFeeds > 0;
    clippedFeeds = peak >= fullScale ? clipFeeds : std::max(0, clippedFeeds - 1);
    if (clippedFeeds > 0 && !clippedBefore)
        if (auto* handler = getAccessibilityHandler())
            handler->postAnnouncement(name + " clipped",
                                      juce::AccessibilityHandler::AnnouncementPriority::high);
    refresh();
}

Meter::Seen Meter::look() const
{
    const bool gone = silent && now <= lowestDbfs;
    const bool clipped = clippedFeeds > 0;
    const auto quarters = [](float dbfs) { return juce::roundToInt(4.0f * xOf(dbfs)); };
    return { quarters(now), quarters(held), clipped,
             clipped ? juce::String("clipped")
             : gone  ? juce::String("nothing")
                     : figure(juce::roundToInt(now)) + said("\u00a0dBFS") };
}

void Meter::refresh()
{
    auto next = look();
    if (next == seen)
        return;
    const bool words = next.words != seen.words || next.clipped != seen.clipped;
    if (words)
        repaint(0, 0, width, static_cast<int>(nameBaseline) + 4);
    if (next.line != seen.line || next.tick != seen.tick || next.clipped != seen.clipped)
        repaint(0, static_cast<int>(lineY) - 8, width, 12);
    seen = std::move(next);
}

void Meter::paint(juce::Graphics& g)
{
    const auto drawn = ink(g);
    const auto right = lineX + lineWidth;
    const auto tone = seen.clipped ? palette().attend : palette().ink;
    drawn.text(lineX, nameBaseline, name, 13.0f, palette().second, Weight::semibold);
    drawn.text(right, nameBaseline, seen.words, 13.0f, tone, Weight::semibold, Ink::Anchor::end);
    if (seen.clipped)
        drawn.attendMark(right - textWidth(seen.words, 13.0f, Weight::semibold) - 11.0f, nameBaseline);
    drawn.line(lineX, lineY, right, lineY, palette().rule, 1.0f);
    const auto lineEnd = static_cast<float>(seen.line) / 4.0f, tick = static_cast<float>(seen.tick) / 4.0f;
    g.setColour(palette().ink.withAlpha(0.92f));
    g.fillRect(juce::Rectangle<float>(lineX, lineY - 4.0f, lineEnd - lineX, 6.0f));
    if (tick > lineX)
    {
        g.setColour(tone);
        g.fillRect(juce::Rectangle<float>(tick - 1.0f, lineY - 7.0f, 2.0f, 10.0f));
    }
    for (const int dbfs : { -60, -40, -20, 0 })
    {
        const auto x = xOf(static_cast<float>(dbfs));
        drawn.line(x, lineY + 3.0f, x, lineY + 7.0f, palette().third, 1.0f);
        drawn.text(std::clamp(x, lineX + 9.0f, right - 3.0f), lineY + 19.0f, figure(dbfs), 12.5f,
                   palette().third, Weight::semibold, Ink::Anchor::middle);
    }
}

std::unique_ptr<juce::AccessibilityHandler> Meter::createAccessibilityHandler()
{
    return std::make_unique<juce::AccessibilityHandler>(
        *this, juce::AccessibilityRole::staticText, juce::AccessibilityActions(),
        juce::AccessibilityHandler::Interfaces(std::make_unique<MeterReading>(*this)));
}

}
