#pragma once

#include "Editor/CurveEdges.h"
#include "Editor/Ink.h"

namespace plumbline
{

/** Draws curves and bands straight into the pixels of a picture, a column at a time, smooth at their edges.
    All in px of the picture. The picture must be opaque. */
class CurvePainter
{
public:
    /** @param area nothing is drawn outside it
        @param pxScale px of the picture per px of the window: thickness and dashes grow with it */
    CurvePainter(juce::Image::BitmapData& picture, juce::Rectangle<int> area, const LevelToY& levels,
                 float pxScale);

    /** How a curve is drawn where it is known. */
    struct Look
    {
        juce::Colour colour;
        float width = 2.0f; ///< px of the window
        Lie lie = Lie::upright;
        float opacity = 1.0f;
        bool faint = true; ///< goes on at 1 px, 45 % where it is not known
    };

    void curve(const CurveColumns& columns, const Look& look);

    /** Fills between two curves where both are there and both are known. */
    void band(const CurveColumns& upper, const CurveColumns& lower, juce::Colour colour, float opacity);

    /** Lines that rise at 45 degrees, 8 px of the window apart, 1 px thick. */
    void hatch(juce::Rectangle<int> where, juce::Colour colour, float opacity);

private:
    void line(const CurveColumns& columns, const CurveColumns::Run& run, juce::Colour colour, float width,
              float opacity);
    void dashes(const CurveColumns& columns, const CurveColumns::Run& run, const Look& look);
    void fill(const FilledEdges& edges, int firstColumn, juce::Colour colour, float opacity);

    juce::Image::BitmapData& pixels;
    juce::Rectangle<int> clip;
    LevelToY toY;
    float scale;
    std::vector<float> coverage; ///< of the rows of a column, kept for the next
};

}
