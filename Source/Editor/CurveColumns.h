#pragma once

#include "Editor/ChartScale.h"

#include <optional>
#include <span>
#include <vector>

namespace plumbline
{

/** A curve that somebody else keeps. Between its points it is straight over log frequency. */
struct CurveView
{
    std::span<const double> frequencyHz;      ///< rising
    std::span<const double> levelDb;          ///< not finite where there is nothing to draw
    const std::vector<bool>* known = nullptr; ///< null: everywhere
};

/** A curve made ready for a picture: a column a pixel. */
struct CurveColumns
{
    /** Columns that follow one another and are drawn alike. What is between runs is not drawn. */
    struct Run
    {
        int first = 0, end = 0; ///< px columns of the picture; `end` is the one after the last
        bool known = true;      ///< all of the points that the run touches are
    };

    int firstColumn = 0;              ///< px column of the picture that index 0 stands for
    std::vector<float> edgeDb;        ///< on the columns' edges: one more than there are columns
    std::vector<float> middleDb;      ///< in the middle of each column
    std::vector<float> lowDb, highDb; ///< the least and the most inside each column, edges and all
    std::vector<Run> runs;

    int columns() const noexcept { return static_cast<int>(middleDb.size()); }
};

/** @param scale in px of the picture; its plot's columns are those from floor(left) to ceil(right) */
CurveColumns columnsOf(const CurveView& curve, const ChartScale& scale);

/** The level at a frequency where it is known; nothing where it is not, or beyond the curve's ends. */
std::optional<double> knownLevelAt(const CurveView& curve, double hz);

/** A stretch of the scale where nothing is claimed. */
struct UnknownRange
{
    double fromHz = 0.0, toHz = 0.0;
};

/** Where none of the curves is known, between the ends of the scale. */
std::vector<UnknownRange> unknownRanges(std::span<const CurveView> curves);

}
