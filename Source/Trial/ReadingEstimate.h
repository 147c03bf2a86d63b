#pragma once

#include "Trial/Reading.h"

#include <vector>

namespace plumbline
{

/** A reading of one stance as it is shown. */
struct ReadingValue
{
    double value = unknownValue;
    double plusMinus = unknownValue; ///< half of the 95 % interval; the longer half where its halves differ
    double low = unknownValue, high = unknownValue;
    SpreadBasis basis = SpreadBasis::none;

    bool known() const noexcept { return value == value; }
};

/** A reading of stance a less that of stance b. */
struct ReadingDifference
{
    double difference = unknownValue;
    double plusMinus = unknownValue;
    double chance = unknownValue; ///< of such a difference, or a larger one, if there were none
    SpreadBasis basis = SpreadBasis::none;
    double points = unknownValue;        ///< the difference in steps of the order, better being positive
    double standardError = unknownValue; ///< on the scale that the reading is compared on
    double degreesOfFreedom = 0.0;
    double onScale = unknownValue; ///< the difference on that scale
};

/** One reading for all stances of a board.

    A take is one unit: the figure is formed inside it, then averaged over a set-up, then over set-ups
    (SpreadModel). Folded readings, which noise would always make larger, come from the mean curve m of a
    stance: S = mean(m^2) less the squared error of m, with the error of S by the delta method joined by
    1.5 times what was taken off; the reading is sqrt(S). Differences of folded readings are tested on S,
    and their interval is made from both intervals (Zou and Donner, Statistics in Medicine 27 (2008) 1693). */
class ReadingEstimate
{
public:
    ReadingEstimate(const MatchedBoard& board, const Reading& reading);

    ReadingValue value(std::size_t stance) const;
    ReadingDifference difference(std::size_t a, std::size_t b) const;

    /** What each seat take adds to the order, in points of the reading (better is more), around the
        stance's value; in step with the board's layout. Unknown where the reading is. */
    const std::vector<double>& pointsOfTakes() const noexcept { return points; }

private:
    struct Folded
    {
        double square = unknownValue, error = unknownValue, freedom = 0.0;
        SpreadBasis basis = SpreadBasis::none;
    };

    void gather();
    void estimateFolded(const std::vector<std::vector<double>>& curves);
    void makePoints(const std::vector<double>& linearised);
    double shown(double onScale) const;
    ReadingDifference foldedDifference(std::size_t a, std::size_t b) const;
    ReadingValue foldedValue(std::size_t stance) const;

    const MatchedBoard& board;
    const Reading& reading;
    TakeLayout layout;                                  ///< of the units: seat takes, or set-ups
    std::vector<std::vector<std::ptrdiff_t>> firstUnit; ///< [stance][set-up], -1 where it gives no figure
    std::vector<SpreadModel> model;                     ///< one, of values (or of linearised sizes if folded)
    std::vector<Folded> folded;                         ///< a stance
    std::vector<double> points;
};

}
