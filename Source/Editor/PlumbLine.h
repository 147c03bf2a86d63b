#pragma once

#include "Editor/ChartPicture.h"

namespace plumbline
{

/** The crosshair: a thread through the plot at one frequency, its bob on the axis, the values beside it. In
    px of the chart's own place. Made anew for each place; what it covers is little. */
class PlumbLine
{
public:
    struct Value
    {
        juce::String words;     ///< "left 84.3 dB SPL", or "left not known"
        std::optional<float> y; ///< of the curve; none where it is not known
        float baseline = 0.0f;
    };

    /** @param chart there must be a newest take */
    PlumbLine(const ChartPicture& chart, double hz);

    double frequency() const noexcept { return hz; }

    const juce::String& label() const noexcept { return frequencyWords; }

    const std::vector<Value>& values() const noexcept { return rows; }

    bool valuesStandRight() const noexcept { return toRight; }

    /** All that it covers. */
    std::vector<juce::Rectangle<int>> areas() const;

    void paint(const Ink& ink, juce::Colour colour) const;

private:
    juce::Rectangle<float> boxOf(const Value& value, bool right) const;
    void placeLabel(const ChartPicture& chart);
    void placeValues(const ChartPicture& chart);
    int covered(const ChartPicture& chart, bool right) const;

    double hz;
    PlotArea plot;
    float x;
    juce::String frequencyWords;
    juce::Rectangle<float> labelBox; ///< ground under the frequency, and under figures that it would touch
    std::vector<Value> rows;
    bool toRight = true;
};

}
