#pragma once

#include "Editor/CurveEdges.h"
#include "Editor/Ink.h"
#include "Editor/PixelBrush.h"

namespace plumbline
{

/** A curve cut into the dashes of a lie, by its length along the curve. */
class DashedLine
{
public:
    /** @param bare of one run (a curve's own course, without thickness)
        @param firstX px of its first sample; samples are half a pixel apart
        @param scale px of the picture per px of the window */
    DashedLine(const FilledEdges& bare, float firstX, Lie lie, float scale);

    void draw(const PixelBrush& brush, juce::Rectangle<int> clip, float widthPx) const;

private:
    using Dash = std::vector<juce::Point<float>>;
    void drawDash(const Dash& dash, const PixelBrush& brush, juce::Rectangle<int> clip, float radius) const;

    std::vector<Dash> dashes;
    bool round = false; ///< how dashes end
};

}
