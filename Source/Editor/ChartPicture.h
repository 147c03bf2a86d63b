#pragma once

#include "Editor/ChartScale.h"
#include "Editor/Ink.h"
#include "Editor/Palette.h"
#include "Plugin/EditorInterface.h"

namespace plumbline
{

/** What a chart shows. */
struct ChartContent
{
    StanceCurves curves;
    std::size_t monitorRow = 0; ///< gives colour and mark
    Lie lie = Lie::upright;

    /** The same curves themselves, not others like them. */
    bool operator==(const ChartContent& other) const noexcept
    {
        return curves.newest == other.curves.newest && curves.before == other.curves.before &&
               monitorRow == other.monitorRow && lie == other.lie;
    }
};

/** The chart without its plumb line, as one opaque picture that is kept until something about it changes. */
class ChartPicture
{
public:
    // In px of the chart's own place: plumb line, names and figures of the axes stand around the plot.
    static constexpr int width = 1200, height = 368;
    static constexpr PlotArea plot{ 64.0, 6.0, 952.0, 320.0 };
    static constexpr float namesLeft = 1048.0f; ///< names at the lines' ends

    ChartPicture();

    /** @return whether anything changed */
    bool show(ChartContent newContent);
    /** Keeps the names at the lines' ends between two heights, so that others may stand in their column. */
    bool keepNamesBetween(float top, float bottom);

    const ChartContent& content() const noexcept { return shown; }

    /** In px of the chart's own place. */
    const ChartScale& scale() const noexcept { return chartScale; }

    /** Lays the kept picture down, and makes it first if it is not the right one. */
    void paint(juce::Graphics& g, const Palette& palette);

    /** How often it was made, for tests: a picture that is kept is not made again. */
    int timesMade() const noexcept { return made; }

private:
    void make(const Palette& palette, float pxScale);

    ChartContent shown;
    ChartScale chartScale;
    float namesTop, namesBottom;
    juce::Image picture;
    const Palette* madeIn = nullptr; ///< null: nothing is kept
    float madeAt = 0.0f;             ///< px of the picture per px of the window
    int made = 0;
};

}
