#pragma once

#include "Editor/Fonts.h"

#include <optional>

namespace plumbline
{

/** A sentence written in the source, which is UTF-8. */
inline juce::String said(const char* utf8)
{
    return juce::String::fromUTF8(utf8);
}

/** A figure that can be changed: its range and step in its unit, and how it is written. */
struct FigureRange
{
    double least = 0.0, most = 1.0, step = 1.0;
    int decimals = 0; ///< at most; zeros at the end are left out
    juce::String unit;
};

/** "−40 dBFS": a true minus, and the unit never parted from its figure. */
juce::String figureWords(double value, const FigureRange& range);

/** What somebody typed for a figure. */
struct FigureRead
{
    bool understood = false;
    std::optional<double> value; ///< inside the range; none if nothing was typed
    juce::String remark;         ///< why it was refused, or where it was held; empty if it was taken as typed
};

/** Reads "27", "27 cm", "-40", "−40 dBFS", "2,7", "2700 Hz" (where the unit is kHz). What is beyond the range
    is held at its end. Anything else is refused, in words.
    @param mayBeEmpty nothing typed means: not known */
FigureRead figureRead(const juce::String& typed, const FigureRange& range, bool mayBeEmpty);

/** The words, or as many of them as fit into `measure` px, ending with an ellipsis. */
juce::String fitted(const juce::String& words, float measure, float size, Weight weight);

}
