#pragma once

#include "Trial/StanceData.h"

#include <cstddef>
#include <span>
#include <string>
#include <vector>

namespace plumbline
{

/** Where the spread that an interval rests on comes from. */
enum class SpreadBasis
{
    none,            ///< one take, or one of each: nothing is known
    untouchedOwn,    ///< takes of the one set-up: sees no put-back error
    untouchedPooled, ///< the same, of all stances together
    putBackPooled,   ///< set-ups of all stances together
    putBackOwn       ///< set-ups of these stances alone
};

/** Which takes of the board belong together: stances, their set-ups, their takes, by place in a list of
    values. */
struct TakeLayout
{
    struct SetUpSlice
    {
        std::size_t first = 0;
        std::size_t count = 0;
    };

    std::vector<std::vector<SetUpSlice>> stances; ///< each set-up has a take at least
    std::size_t takes = 0;
};

/** A figure with what is known of its error. */
struct Estimate
{
    double value = unknownValue;
    double standardError = unknownValue; ///< unknown where no spread was measured
    double degreesOfFreedom = 0.0;
    SpreadBasis basis = SpreadBasis::none;

    bool known() const noexcept { return value == value; }

    bool intervalKnown() const noexcept { return standardError == standardError; }

    /** Half of the interval that holds the truth with this confidence; unknown as the error is. */
    double halfWidth(double confidence = 0.95) const;
    /** Chance of a value so far from 0, or farther, if the truth were 0; unknown as the error is. */
    double chanceIfNothing() const;
};

/** Degrees of freedom that other stances' put-back spread counts for at most, however many they are. */
inline constexpr double lentFreedom = 6.0;

/** How takes and set-ups of a board spread, for one quantity that each take gives.

    The set-up is the unit and the mean of its takes the datum, as soon as any stance was stood up twice.
    Put-back s.d. is pooled over the stances (its cause is common to them) unless both stances compared
    were stood up three times: then each has its own (Welch, Biometrika 34 (1947) 28). What the others lend
    counts beside the stances' own for fewer degrees of freedom than it has, because some pairs return
    worse than others: 1 / (1 / n + 1 / `lentFreedom`) of n (after Smyth, Stat. Appl. Genet. Mol. Biol. 3
    (2004) 3; the number from the practice room, where with full pooling a stance that returns badly was
    called different from itself 9 times of 100, so 5). Where no stance was stood up twice, takes are the
    unit: Welch from three takes each, both s.d. together for two (see setTogether), all stances' together
    where one has a single take. A stance with fewer takes a set-up than those that the put-back s.d. comes
    from gets the untouched spread it averages less of on top. */
class SpreadModel
{
public:
    /** @param values one a take, in the layout's order; a stance with an unknown one is left out */
    SpreadModel(const TakeLayout& layout, std::span<const double> values);

    /** Mean over a stance's set-ups, each set-up counting once. */
    Estimate mean(std::size_t stance) const;
    Estimate difference(std::size_t a, std::size_t b) const;

    /** Pooled variance of a stance's mean as a single draw from it (error^2 of mean * set-ups), for the
        order: common to all stances, with its degrees of freedom. */
    struct Common
    {
        double variance = unknownValue;
        double degreesOfFreedom = 0.0;
    };

    Common common() const;
    /** Number of data behind a stance's mean: set-ups, or takes where no stance was stood up twice. */
    double dataOf(std::size_t stance) const;

private:
    struct Sample
    {
        double mean = unknownValue;
        double setUps = 0.0, takes = 0.0;
        double betweenSquares = 0.0, betweenFreedom = 0.0; ///< of set-up means
        double withinSquares = 0.0, withinFreedom = 0.0;   ///< of takes about their set-up
        double takesInverse = 1.0;                         ///< mean of 1 / takes over the set-ups
    };

    /** Put-back variance of one set-up's mean for one or two stances, and its degrees of freedom. */
    Common lent(const Sample& a, const Sample* b) const;
    static Sample sampleOf(const std::vector<TakeLayout::SetUpSlice>& setUps, std::span<const double> values);
    double fewerTakes(const Sample& sample) const;

    std::vector<Sample> samples;
    double betweenSquares = 0.0, betweenFreedom = 0.0, withinSquares = 0.0, withinFreedom = 0.0;
    double pooledInverse = 0.0; ///< mean of 1 / takes over the set-ups that the put-back s.d. comes from
};

/** What the numbers of set-ups and takes alone decide. */
struct SpreadFacts
{
    explicit SpreadFacts(const TakeLayout& layout);

    /** At least one stance was stood up twice. */
    bool putBackMeasured() const noexcept { return stoodTwice > 0; }

    /** The put-back spread behind a comparison of these stances was measured: on both of them, or on three
        others at least. */
    bool firm(std::size_t a, std::size_t b) const;

    std::size_t stoodTwice = 0; ///< stances with two set-ups or more
    std::vector<std::size_t> setUps;
};

/** Spread of takes at one place about what they belong to, 1 s.d. over the grid. Unknown where it was not
    measured. */
struct SpreadCurves
{
    Curve untouchedDb; ///< takes about their set-up, pooled over all stances
    Curve putBackDb;   ///< set-up means about their stance, pooled over all stances
    double untouchedFreedom = 0.0;
    double putBackFreedom = 0.0;
};

}
