#pragma once

#include "Measure/Sweep.h"
#include "Trial/MatchedBoard.h"
#include "Trial/ToleranceMask.h"

#include <cmath>
#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace plumbline
{

enum class Better
{
    lower,
    higher,
    neither ///< no better side: takes no part in verdicts
};

/** On what scale a reading is averaged and compared. */
enum class ReadingScale
{
    linear,
    ratio, ///< averaged as logarithm: frequencies
    folded ///< a size without sign: worked out on the mean curve, less the noise that it would fold in
};

/** A difference that listeners just notice, where one is published. */
struct JustNoticeable
{
    double difference = 0.0; ///< in the reading's unit
    std::string source;
};

/** Another unit that a reading is told in too: value times factor. */
struct OtherUnit
{
    std::string unit;
    double factor = 1.0;
};

/** What a reading may look at: the takes of one set-up (or a single take, where takes are the unit). */
struct ReadingUnit
{
    const MatchedBoard& board;
    const MatchedStance& stance;
    std::vector<const MatchedTake*> seat;      ///< one at least
    std::vector<const MatchedTake*> elsewhere; ///< empty where takes are the unit
};

/** How the places of a folded reading's curve become one size. */
enum class Fold
{
    rootMeanSquare,
    largest
};

/** Facts that readings may need besides the takes. */
struct ReadingContext
{
    ToleranceMask mask;
};

/** One figure of a stance, and how it is come by. A file in Readings/ makes one or several; see the list in
    Readings/Registry.h. */
struct Reading
{
    std::string name; ///< as people see it and as files name it: never changed
    std::string unit;
    std::string definition; ///< a sentence
    std::string source;     ///< standard or paper; "common practice" where there is none
    Band band;
    Better better = Better::lower;
    ReadingScale scale = ReadingScale::linear;
    Fold fold = Fold::rootMeanSquare;
    bool ofSetUps = false; ///< a take alone gives no figure: needs the positions of a set-up
    double step =
        1.0; ///< in the order of stances a difference of this size counts one point (ratio: in octaves)
    double weight = 1.0; ///< points are multiplied by this, unless the user says otherwise
    std::optional<JustNoticeable> justNoticeable;
    std::optional<OtherUnit> also; ///< the same in another unit

    /** The figure of a unit, as one value (linear, ratio), or as the signed curve whose size it is
        (folded). Empty if it is not known. */
    std::function<std::vector<double>(const ReadingUnit&)> of;

    bool hasBetterSide() const noexcept { return better != Better::neither; }
};

/** A reading with its words, all else as usual. */
Reading namedReading(std::string name, std::string unit, std::string definition, std::string source,
                     Band band);

/** Means over the sides of a figure of one side's third-octave levels; unknown if any is. */
template <class OfSide>
std::vector<double> meanOverSides(const ReadingUnit& unit, OfSide ofSide)
{
    double sum = 0.0, count = 0.0;
    for (const auto* take : unit.seat)
        for (std::size_t side = 0; side < take->sides.size(); ++side)
        {
            sum += ofSide(*take, side);
            count += 1.0;
        }
    return std::isfinite(sum) ? std::vector<double>{ sum / count } : std::vector<double>{};
}

/** Mean over the takes of a curve of one take; empty if any value is not known. */
template <class OfTake>
std::vector<double> meanOverTakes(const std::vector<const MatchedTake*>& takes, OfTake ofTake)
{
    std::vector<double> mean;
    for (const auto* take : takes)
    {
        const std::vector<double> values = ofTake(*take);
        mean.resize(values.size(), 0.0);
        for (std::size_t i = 0; i < values.size(); ++i)
            mean[i] += values[i] / static_cast<double>(takes.size());
    }
    for (const double value : mean)
        if (!std::isfinite(value))
            return {};
    return mean;
}

/** Those of the third-octave bands lowNominalHz to highNominalHz that the whole board knows. */
std::vector<std::size_t> knownBands(const MatchedBoard& board, double lowNominalHz, double highNominalHz);

/** The same, but empty unless the board knows all of them: a figure over fewer bands would be another
    figure. */
std::vector<std::size_t> allBands(const MatchedBoard& board, double lowNominalHz, double highNominalHz);

}
