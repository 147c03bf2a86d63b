#include "Editor/ChartWords.h"

#include "Editor/Figures.h"

#include <cmath>

namespace plumbline
{

CurveView viewOf(const FrequencyResponse& response)
{
    return { response.frequencyHz, response.levelDb, &response.known };
}

std::vector<CurveView> viewsOf(const TakeCurves& take)
{
    std::vector<CurveView> views{ viewOf(take.left) };
    if (take.right)
        views.push_back(viewOf(*take.right));
    return views;
}

namespace chartWords
{

namespace
{

const auto space = said("\u00a0"); ///< that does not break

/** Whole Hz, or kHz with one decimal, rounded up or down. */
juce::String limit(double hz, bool up)
{
    const double step = hz < 1000.0 ? 1.0 : 100.0;
    const double rounded = up ? step * std::ceil(hz / step - 1e-6) : step * std::floor(hz / step + 1e-6);
    if (rounded < 1000.0)
        return juce::String(static_cast<int>(rounded)) + space + "Hz";
    return juce::String(rounded / 1000.0, 1) + space + "kHz";
}

bool reachesLow(const UnknownRange& range)
{
    return range.fromHz <= ChartScale::lowHz;
}

bool reachesHigh(const UnknownRange& range)
{
    return range.toHz >= ChartScale::highHz;
}

juce::String takeName(const TakeCurves& take)
{
    return "take " + juce::String(take.take);
}

juce::String knownWords(const TakeCurves& take)
{
    juce::StringArray words;
    for (const auto& range : unknownRanges(viewsOf(take)))
        words.add(reason(range));
    return words.isEmpty() ? juce::String("Known everywhere.") : "It is " + words.joinIntoString("; ") + ".";
}

}

juce::String frequency(double hz)
{
    const bool kilo = hz >= 999.5;
    const double value = kilo ? hz / 1000.0 : hz;
    const int decimals = value < 9.995 ? 2 : value < 99.95 ? 1 : 0;
    // juce::String takes no decimals to mean as many as there are.
    const auto figure = decimals > 0 ? juce::String(value, decimals) : juce::String(juce::roundToInt(value));
    return figure + space + (kilo ? "kHz" : "Hz");
}

juce::String unit(bool isSpl)
{
    return isSpl ? "dB" + space + "SPL" : juce::String("dB");
}

juce::String level(std::optional<double> db, bool isSpl)
{
    if (!db || !std::isfinite(*db))
        return "not known";
    const auto figure = juce::String(std::abs(*db), 1);
    return (*db < 0.0 && figure != "0.0" ? said("−") : juce::String()) + figure + space + unit(isSpl);
}

juce::String reason(const UnknownRange& range)
{
    if (reachesLow(range) && reachesHigh(range))
        return "not known anywhere";
    if (reachesLow(range))
        return "not known under " + limit(range.toHz, true);
    if (reachesHigh(range))
        return "not known over " + limit(range.fromHz, false);
    return "not known from " + limit(range.fromHz, false) + " to " + limit(range.toHz, true);
}

juce::String side(const TakeCurves& take, bool left)
{
    return !take.right ? juce::String() : left ? "left" : "right";
}

juce::String lineEnd(const TakeCurves& take, bool left)
{
    const auto which = side(take, left);
    return which.isEmpty() ? takeName(take) : which + ", " + takeName(take);
}

juce::String band(const TakeCurves& newest, const TakeCurves& before)
{
    const auto setUp =
        newest.setUp == before.setUp ? juce::String() : ", set-up " + juce::String(before.setUp);
    return "the band: " + takeName(before) + setUp;
}

juce::String reading(const TakeCurves& take, double hz)
{
    auto words = "At " + frequency(hz) + " ";
    if (take.right)
        words << "left ";
    words << level(knownLevelAt(viewOf(take.left), hz), take.levelIsSpl);
    if (take.right)
        words << ", right " << level(knownLevelAt(viewOf(*take.right), hz), take.levelIsSpl);
    return words + ".";
}

juce::String summary(const StanceCurves& curves)
{
    if (curves.newest == nullptr)
        return emptyAnswer() + " " + emptyHow();
    const auto& take = *curves.newest;
    auto words = (take.right ? "Left and right of " : "Level of ") + takeName(take);
    if (!take.smoothing.empty())
        words << ", " << juce::String::fromUTF8(take.smoothing.c_str());
    if (!take.levelIsSpl)
        words << ", in " << relativeLevel();
    words << ". " << knownWords(take) << " " << reading(take, 1000.0);
    if (curves.before != nullptr)
        words << " Behind them " << band(take, *curves.before) << ".";
    return words;
}

juce::String title()
{
    return "Level of the take";
}

juce::String emptyAnswer()
{
    return "Here the level will be drawn, left and right, over frequency.";
}

juce::String emptyHow()
{
    return "Choose on the board the stance that stands here, then start its take.";
}

juce::String noise()
{
    return said("the room’s noise, as one sweep reads it");
}

juce::String relativeLevel()
{
    return "dB of microphone over loopback";
}

}

}
