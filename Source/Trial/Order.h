#pragma once

#include "Trial/ReadingEstimate.h"

#include <map>
#include <string>
#include <vector>

namespace plumbline
{

/** What the user says each reading counts, by name; a reading that is not named counts its own weight. */
using ReadingWeights = std::map<std::string, double>;

/** A stance's place. Points are differences in steps of the readings, weighted and added: they order the
    stances of one board and mean nothing beside it. */
struct Placed
{
    std::size_t stance = 0;
    double pointsBehind = 0.0;       ///< the first one's points less this one's
    double plusMinus = unknownValue; ///< of pointsBehind, all pairs of the board at once (studentised range)
    std::vector<std::size_t> tiedWith; ///< stances that cannot be told from it, in order
    double firstShare = unknownValue;  ///< how often it comes first when all are drawn again
};

struct StanceOrder
{
    std::vector<Placed> places;             ///< the first leads
    std::vector<std::size_t> counted;       ///< readings that took part: those known of all stances
    std::vector<std::vector<double>> ahead; ///< [a][b]: how often a comes before b when all are drawn again
};

/** Orders the stances of a board.

    Each take gives points (readings are formed inside it), so that what hangs together between readings is
    kept. Ties by the studentised range at 5 % with one pooled s.d. (Tukey and Kramer, Biometrics 12 (1956)
    307). Redrawing draws that s.d. first (chi-square), then normal means: two identical stances then come
    out nearly certain in one order one time in twenty; resampling two or three takes would say so one time
    in three.

    @param estimates one a reading, in step */
StanceOrder orderOf(const MatchedBoard& board, const std::vector<Reading>& readings,
                    const std::vector<ReadingEstimate>& estimates, const ReadingWeights& weights);

/** Weight of a reading after the user's wishes. */
double weightOf(const Reading& reading, const ReadingWeights& weights);

}
