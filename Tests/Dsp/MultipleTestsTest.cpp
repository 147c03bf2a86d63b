// What could pass here for the wrong reason: p values that are all small or all large, which every method
// treats alike. The ones here lie about the thresholds, ties and gaps among them, and the adjusted values are
// worked out by hand from the published definitions.

#include "Dsp/MultipleTests.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <limits>

using namespace plumbline;

TEST_CASE("Holm's adjusted values step down from the smallest")
{
    // sorted 0.01, 0.02, 0.03, 0.04: times 4, 3, 2, 1 = 0.04, 0.06, 0.06, 0.04 -> never falling: 0.04, 0.06,
    // 0.06, 0.06
    const double p[] = { 0.03, 0.01, 0.04, 0.02 };
    const double wanted[] = { 0.06, 0.04, 0.06, 0.06 };
    const auto adjusted = holmAdjusted(p);
    for (std::size_t i = 0; i < 4; ++i)
        CHECK(adjusted[i] == Approx(wanted[i]));
    // Benjamini and Hochberg call all four of them at 5 %, Holm one: the control that they are not the same.
    for (const double value : benjaminiHochbergAdjusted(p))
        CHECK(value == Approx(0.04));
}

TEST_CASE("Benjamini and Hochberg's own example calls four of fifteen")
{
    // JRSS B 57 (1995), section 4.1: at q = 0.05 the four smallest are called; Bonferroni calls three.
    const double p[] = { 0.0001, 0.0004, 0.0019, 0.0095, 0.0201, 0.0278, 0.0298, 0.0344,
                         0.0459, 0.3240, 0.4262, 0.5719, 0.6528, 0.7590, 1.0000 };
    int benjaminiHochberg = 0, holm = 0;
    for (const double value : benjaminiHochbergAdjusted(p))
        benjaminiHochberg += value <= 0.05 ? 1 : 0;
    for (const double value : holmAdjusted(p))
        holm += value <= 0.05 ? 1 : 0;
    CHECK(benjaminiHochberg == 4);
    CHECK(holm == 3);
}

TEST_CASE("What was not tested is not counted, and nothing gives nothing")
{
    const double nothing = std::numeric_limits<double>::quiet_NaN();
    const double p[] = { nothing, 0.02, nothing, 0.5 };
    CHECK(holmAdjusted(p)[1] == Approx(0.04));
    CHECK(benjaminiHochbergAdjusted(p)[1] == Approx(0.04));
    CHECK(std::isnan(holmAdjusted(p)[0]));
    CHECK(holmAdjusted({}).empty());
    CHECK(benjaminiHochbergAdjusted({}).empty());
}
