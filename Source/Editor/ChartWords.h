#pragma once

#include "Editor/CurveColumns.h"
#include "Plugin/EditorInterface.h"

#include <juce_core/juce_core.h>

namespace plumbline
{

/** A curve as the chart reads it. The response must outlive the view. */
CurveView viewOf(const FrequencyResponse& response);

/** What is shown of a take: left, and right if there is one. */
std::vector<CurveView> viewsOf(const TakeCurves& take);

/** The words on and about a chart of levels. */
namespace chartWords
{
/** "63.0 Hz", "640 Hz", "3.15 kHz": three figures. */
juce::String frequency(double hz);

/** "84.3 dB SPL", "−3.2 dB", or "not known": never a number where there is none. */
juce::String level(std::optional<double> db, bool isSpl);

/** What the scale's figures are: "dB SPL", "dB". */
juce::String unit(bool isSpl);

/** "not known under 21 Hz": the limit rounded inward, into what is known. */
juce::String reason(const UnknownRange& range);

/** "left", "right"; of a single monitor nothing. */
juce::String side(const TakeCurves& take, bool left);

/** "left, take 2". */
juce::String lineEnd(const TakeCurves& take, bool left);

/** "the band: take 1", and of which set-up, if it is another. */
juce::String band(const TakeCurves& newest, const TakeCurves& before);

/** "At 1.00 kHz left 84.3 dB SPL, right 82.1 dB SPL." */
juce::String reading(const TakeCurves& take, double hz);

/** All that the chart shows, for ears. */
juce::String summary(const StanceCurves& curves);

juce::String title();
juce::String emptyAnswer();
juce::String emptyHow();
juce::String noise();
juce::String relativeLevel(); ///< what a dB is, where it is not SPL
}

}
