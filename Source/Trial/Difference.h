#pragma once

#include "Trial/MatchedBoard.h"

#include <string>
#include <vector>

namespace plumbline
{

/** Level of stance a less that of stance b on one side, level-matched, over the grid. */
struct DifferenceCurve
{
    Curve differenceDb;
    Curve halfWidthDb; ///< of the 95 % interval at each point by itself; unknown where no spread was measured
};

/** A stretch of frequency where two stances really differ. */
struct DifferenceRegion
{
    std::size_t a = 0, b = 0; ///< places among the board's stances
    std::size_t side = 0;
    double fromHz = 0.0, toHz = 0.0;
    double differenceDb = 0.0; ///< mean over the region of a less b
    double plusMinusDb = 0.0; ///< half of an interval widened because the region was chosen on the same takes
    double peakHz = 0.0, peakDb = 0.0;
    SpreadBasis basis = SpreadBasis::none;
    bool firm = false;
};

/** Differences of a board's stances over frequency. [any] Made once a board; keeps a reference to it. */
class Differences
{
public:
    explicit Differences(const MatchedBoard& board);

    DifferenceCurve curve(std::size_t a, std::size_t b, std::size_t side) const;

    /** Regions where a and b differ: bands of a twelfth of an octave found by Benjamini and Hochberg at 5
        % over both sides together, those side by side of one sign joined; each with the mean difference
        inside it and an interval of confidence 1 - 0.05 R/m, R of the m bands being called (Benjamini and
        Yekutieli, JASA 100 (2005) 71). */
    std::vector<DifferenceRegion> regions(std::size_t a, std::size_t b) const;

    /** Untouched and put-back spread of one side's level, pooled over the board, 1 s.d. */
    SpreadCurves spread(std::size_t side) const;

private:
    struct Called
    {
        std::size_t side, band;
        double difference;
    };

    std::vector<double> takeValues(std::size_t side, std::size_t point) const;
    DifferenceRegion describe(std::size_t a, std::size_t b, const std::vector<Called>& run,
                              double confidence) const;
    std::size_t sidesOf(std::size_t a, std::size_t b) const;

    const MatchedBoard& board;
    SpreadFacts facts;
    std::vector<std::size_t> bands; ///< points of the grid at which bands of a twelfth are centred
    std::vector<std::vector<SpreadModel>> models; ///< [side][band]
};

/** "0.9-2.1 kHz: 3.2 +- 0.6 dB lower on its side": a region in words, of stance a against b. */
std::string regionWords(const DifferenceRegion& region, const MatchedBoard& board);

}
