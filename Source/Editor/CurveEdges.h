#pragma once

#include "Editor/CurveColumns.h"

namespace plumbline
{

/** Level to y in px of a picture; y goes downward. */
struct LevelToY
{
    float topPx = 0.0f; ///< y of `topDb`
    float topDb = 0.0f;
    float pxPerDb = 1.0f;
    float least = -1e4f, most = 1e4f; ///< levels far off the picture are held here, in px

    float operator()(float db) const noexcept
    {
        const float y = topPx + (topDb - db) * pxPerDb;
        return y < least ? least : y > most ? most : y;
    }
};

/** Two edges of something filled, straight between their samples: on each column's left edge and in its
    middle, and on the last column's right edge. Twice as many as columns, and one. In px, y downward. */
struct FilledEdges
{
    std::vector<float> upper, lower;
};

/** A run of a curve as a line without thickness; the edges part where a column holds a peak or a hollow. */
FilledEdges bareEdges(const CurveColumns& columns, const CurveColumns::Run& run, const LevelToY& toY);

/** The edges of a line drawn with a round pen along bare edges: true thickness, however steep the line.

    The pen is a disc held as seventeen directions; its outline lies within 0.5 % of the radius.
    @param widthPx the line's thickness */
FilledEdges penned(const FilledEdges& bare, float widthPx);

}
