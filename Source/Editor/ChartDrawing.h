#pragma once

#include "Editor/ChartPicture.h"

namespace plumbline
{

/** All that a chart's drawing needs to know. */
struct ChartTask
{
    const ChartContent& content;
    const ChartScale& scale; ///< in px of the chart's own place
    const Palette& palette;
    float pxScale = 1.0f; ///< px of the picture per px of the chart's place
    float namesTop = 0.0f, namesBottom = 0.0f;
};

/** Draws all of a chart but its plumb line: ground, hatch, grid, axis, band, noise, curves, names.
    @param picture opaque; every pixel of it is drawn */
void drawChart(juce::Image& picture, const ChartTask& task);

}
