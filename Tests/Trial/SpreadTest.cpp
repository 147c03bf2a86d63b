// What could pass here for the wrong reason: numbers of takes that are all alike, for which many formulas
// agree. Set-ups here have different numbers of takes, stances different numbers of set-ups. Figures are from
// SciPy (scipy.stats.ttest_ind, t.ppf) and from handbook tables, or are added up in the comment.

#include "Trial/Spread.h"
#include "Dsp/Statistics.h"

#include <catch2/catch.hpp>
#include <cmath>

using namespace plumbline;

namespace
{
/** Stances as lists of set-ups, each a number of takes. */
TakeLayout layoutOf(const std::vector<std::vector<std::size_t>>& stances)
{
    TakeLayout layout;
    for (const auto& stance : stances)
    {
        auto& slices = layout.stances.emplace_back();
        for (const auto takes : stance)
        {
            slices.push_back({ layout.takes, takes });
            layout.takes += takes;
        }
    }
    return layout;
}
}

TEST_CASE("Three takes of one set-up have the mean and half-width of the tables")
{
    const double values[] = { 80.0, 80.1, 80.2 };
    const SpreadModel model(layoutOf({ { 3 } }), values);
    const auto mean = model.mean(0);
    CHECK(mean.value == Approx(80.1));
    CHECK(mean.halfWidth() == Approx(0.248414).margin(1e-6));
    CHECK(mean.basis == SpreadBasis::untouchedOwn);
    const double five[] = { 80.0, 80.1, 80.2, 80.1, 80.1 };
    CHECK(SpreadModel(layoutOf({ { 5 } }), five).mean(0).halfWidth() == Approx(0.087799).margin(1e-6));
}

TEST_CASE("From three takes each the difference is Welch's")
{
    const double values[] = { 80.0, 80.4, 79.9, 81.1, 80.6, 81.0, 80.2 };
    const auto found = SpreadModel(layoutOf({ { 3 }, { 4 } }), values).difference(0, 1);
    CHECK(found.value == Approx(-0.625));
    CHECK(found.standardError == Approx(0.25617376914898937).epsilon(1e-9));
    CHECK(found.degreesOfFreedom == Approx(4.95918367347).epsilon(1e-9));
    CHECK(found.chanceIfNothing() == Approx(0.0590804290078).epsilon(1e-9));
    CHECK(found.halfWidth() == Approx(0.660149158855).epsilon(1e-9));
}

TEST_CASE("Two takes each: both s.d. together, degrees of freedom half way to Welch's")
{
    // s.d. alike (squares 0.02 each): Welch has 2 as well. Variance 0.04 / 2 = 0.02, error^2 0.02.
    const double alike[] = { 0.0, 0.2, 1.0, 1.2 };
    const auto same = SpreadModel(layoutOf({ { 2 }, { 2 } }), alike).difference(0, 1);
    CHECK(same.standardError == Approx(std::sqrt(0.02)));
    CHECK(same.degreesOfFreedom == Approx(2.0));
    // All of the spread on one side: Welch has 1, half way is 1.5.
    const double unlike[] = { 0.0, 0.2, 1.0, 1.0 };
    const auto apart = SpreadModel(layoutOf({ { 2 }, { 2 } }), unlike).difference(0, 1);
    CHECK(apart.standardError == Approx(std::sqrt(0.01)));
    CHECK(apart.degreesOfFreedom == Approx(1.5));
}

TEST_CASE("A single take borrows the spread of all the others; alone it has none")
{
    const double values[] = { 0.0, 0.2, 5.0, 1.0, 1.4 };
    const SpreadModel model(layoutOf({ { 2 }, { 1 }, { 2 } }), values);
    const auto found = model.difference(0, 1);
    CHECK(found.basis == SpreadBasis::untouchedPooled);
    CHECK(found.standardError == Approx(std::sqrt((0.02 + 0.08) / 2.0 * 1.5)));
    CHECK(found.degreesOfFreedom == Approx(2.0));
    const double two[] = { 0.0, 1.0 };
    const auto nothing = SpreadModel(layoutOf({ { 1 }, { 1 } }), two).difference(0, 1);
    CHECK(nothing.value == Approx(-1.0));
    CHECK(nothing.basis == SpreadBasis::none);
    CHECK_FALSE(nothing.intervalKnown());
    CHECK(std::isnan(nothing.halfWidth()));
    CHECK(std::isnan(nothing.chanceIfNothing()));
}

TEST_CASE("As soon as one stance was stood up twice the set-up is the unit, and each counts once")
{
    // Stance 0: set-ups of 2 and 1 takes, means 1 and 3; stance 1: one set-up of 2 takes.
    const double values[] = { 0.9, 1.1, 3.0, 5.0, 5.4 };
    const SpreadModel model(layoutOf({ { 2, 1 }, { 2 } }), values);
    CHECK(model.mean(0).value == Approx(2.0)); // not 5 / 3
    const auto found = model.difference(0, 1);
    CHECK(found.basis == SpreadBasis::putBackPooled);
    CHECK(found.value == Approx(2.0 - 5.2));
    CHECK(found.degreesOfFreedom == Approx(1.0));
    // Variance of a set-up 2, over 2 and over 1 set-ups.
    CHECK(found.standardError == Approx(std::sqrt(2.0 / 2.0 + 2.0 / 1.0)));
    CHECK(model.dataOf(0) == 2.0);
}

TEST_CASE("Other stances lend their put-back spread for fewer degrees of freedom than they have")
{
    // Three stances twice by one take: squares 0.02, 0.08 and 2.0. The third lends 1 / (1 + 1/6) = 6/7
    // degrees.
    const double values[] = { 0.0, 0.2, 1.0, 1.4, 5.0, 7.0 };
    const SpreadModel model(layoutOf({ { 1, 1 }, { 1, 1 }, { 1, 1 } }), values);
    const auto found = model.difference(0, 1);
    CHECK(found.degreesOfFreedom == Approx(2.0 + 6.0 / 7.0));
    CHECK(found.standardError == Approx(std::sqrt((0.02 + 0.08 + 2.0 * 6.0 / 7.0) / (2.0 + 6.0 / 7.0))));
    // A stance that was stood up once has only what is lent: 2 x 6 / 8 degrees of the two others.
    const double once[] = { 0.0, 0.2, 1.0, 1.4, 5.0 };
    const auto alone = SpreadModel(layoutOf({ { 1, 1 }, { 1, 1 }, { 1 } }), once).mean(2);
    CHECK(alone.basis == SpreadBasis::putBackPooled);
    CHECK(alone.degreesOfFreedom == Approx(1.5));
    CHECK(alone.standardError == Approx(std::sqrt(0.05)));
}

TEST_CASE("Stances stood up three times each have their own spread, by Welch")
{
    const double values[] = { 80.0, 80.4, 79.9, 81.1, 80.6, 81.0, 80.2 };
    const auto found = SpreadModel(layoutOf({ { 1, 1, 1 }, { 1, 1, 1, 1 } }), values).difference(0, 1);
    CHECK(found.basis == SpreadBasis::putBackOwn);
    CHECK(found.chanceIfNothing() == Approx(0.0590804290078).epsilon(1e-9));
}

TEST_CASE("Fewer takes a set-up than where the put-back spread was seen cost the untouched spread on top")
{
    // Stance 0 twice by 2 takes (means 1, 2: variance 0.5; within 0.02 each), stance 1 once by 1 take.
    const double values[] = { 0.9, 1.1, 1.9, 2.1, 7.0 };
    const auto found = SpreadModel(layoutOf({ { 2, 2 }, { 1 } }), values).difference(0, 1);
    CHECK(found.standardError == Approx(std::sqrt(0.5 / 2.0 + 0.5 + (1.0 - 0.5) * 0.02)));
}

TEST_CASE("What one stance does not know leaves the others alone")
{
    const double values[] = { 0.0, 0.2, unknownValue, 1.0, 1.0, 1.4 };
    const SpreadModel model(layoutOf({ { 2 }, { 2 }, { 2 } }), values);
    CHECK_FALSE(model.mean(1).known());
    CHECK_FALSE(model.difference(0, 1).known());
    CHECK(model.difference(0, 2).known());
    CHECK(model.difference(0, 2).standardError == Approx(std::sqrt(0.05)));
}

TEST_CASE("A verdict is firm where both were stood up twice, or three others were")
{
    CHECK_FALSE(SpreadFacts(layoutOf({ { 2 }, { 2 } })).firm(0, 1));
    CHECK_FALSE(SpreadFacts(layoutOf({ { 2 }, { 2 } })).putBackMeasured());
    CHECK(SpreadFacts(layoutOf({ { 1, 1 }, { 1, 1 } })).firm(0, 1));
    const SpreadFacts one(layoutOf({ { 1, 1 }, { 1 } }));
    CHECK(one.putBackMeasured());
    CHECK_FALSE(one.firm(0, 1));
    CHECK(SpreadFacts(layoutOf({ { 1 }, { 1 }, { 1, 1 }, { 1, 1 }, { 1, 1 } })).firm(0, 1));
}
