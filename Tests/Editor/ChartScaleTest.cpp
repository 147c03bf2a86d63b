// What could pass here for the wrong reason: a scale that agrees with itself. So places are told by closed
// forms (the middle of a log axis is the geometric mean), the shape as the ratio of two lengths, and the
// preferred frequencies by the exact series that they round.

#include "Editor/ChartScale.h"

#include "Support/GermanLocale.h"

#include <catch2/catch.hpp>
#include <cmath>

using namespace plumbline;

namespace
{
const PlotArea plot{ 64.0, 6.0, 952.0, 320.0 };
}

TEST_CASE("A chart's scale is logarithmic from 20 Hz to 20 kHz")
{
    const ChartScale scale(plot, 95.0);
    CHECK(scale.x(20.0) == Approx(64.0));
    CHECK(scale.x(20000.0) == Approx(1016.0));
    CHECK(scale.x(std::sqrt(20.0 * 20000.0)) == Approx(540.0));
    CHECK(scale.x(2000.0) - scale.x(200.0) == Approx(952.0 / 3.0));
    for (const double x : { 64.0, 100.0, 777.7, 1016.0 })
        CHECK(scale.x(scale.frequency(x)) == Approx(x));
}

TEST_CASE("A decade is as wide as 50 dB are tall, or 25 in a fine shape, in plots of any size")
{
    for (const auto& area : { plot, PlotArea{ 10.0, 400.0, 333.0, 90.0 } })
    {
        const ChartScale standard(area, 10.0), fine(area, 10.0, ChartShape::fine);
        const double decade = standard.x(1000.0) - standard.x(100.0);
        CHECK(standard.y(-50.0) - standard.y(0.0) == Approx(decade));
        CHECK(fine.y(-25.0) - fine.y(0.0) == Approx(decade));
        CHECK(standard.y(10.0) == Approx(area.top));
        CHECK(standard.level(standard.y(-7.3)) == Approx(-7.3));
        CHECK(standard.bottom() == Approx(10.0 - area.height / decade * 50.0));
    }
}

TEST_CASE("The top of a plot is in whole 5 dB with at least 3 dB of air")
{
    CHECK(topOverLevel(87.0) == 90.0);
    CHECK(topOverLevel(87.01) == 95.0);
    CHECK(topOverLevel(0.0) == 5.0);
    CHECK(topOverLevel(-8.0) == -5.0);
    CHECK(topOverLevel(-7.9) == 0.0);
    for (double highest = -60.0; highest < 120.0; highest += 0.37)
    {
        const double top = topOverLevel(highest);
        CHECK(std::fmod(top, 5.0) == 0.0);
        CHECK(top >= highest + 3.0 - 1e-9);
        CHECK(top < highest + 8.0);
    }
}

TEST_CASE("Level lines stand each 5 dB inside the plot, each 10 strong; fine ones each 2.5 and 5")
{
    const auto lines = levelLines(ChartScale(plot, 95.0));
    REQUIRE(lines.size() == 11); // 45 .. 95: the plot holds 50.4 dB
    CHECK(lines.front().db == 45.0);
    CHECK(lines.back().db == 95.0);
    for (const auto& each : lines)
        CHECK(each.strong == (std::fmod(each.db, 10.0) == 0.0));
    const auto fine = levelLines(ChartScale(plot, 5.0, ChartShape::fine));
    CHECK(fine[1].db - fine[0].db == 2.5);
    for (const auto& each : fine)
        CHECK(each.strong == (std::fmod(each.db, 5.0) == 0.0));
    // Levels under zero: -10 is strong, -5 is not.
    for (const auto& each : levelLines(ChartScale(plot, 5.0)))
        CHECK(each.strong == (std::fmod(each.db, 10.0) == 0.0));
}

TEST_CASE("The preferred frequencies are those of the exact series of ten a decade, rounded")
{
    REQUIRE(thirdOctaves.size() == 31);
    for (std::size_t i = 0; i < thirdOctaves.size(); ++i)
        CHECK(thirdOctaves[i] == Approx(std::pow(10.0, 1.3 + 0.1 * static_cast<double>(i))).epsilon(0.011));
    REQUIRE(octaves.size() == 10);
    for (std::size_t i = 0; i < octaves.size(); ++i)
        CHECK(octaves[i] == thirdOctaves[2 + 3 * i]);
}

TEST_CASE("Figures of octaves are short, in every language")
{
    const plumbline::test::GermanLocale german;
    REQUIRE(german.there());
    CHECK(octaveFigure(31.5) == "31.5");
    CHECK(octaveFigure(500.0) == "500");
    CHECK(octaveFigure(1000.0) == "1k");
    CHECK(octaveFigure(16000.0) == "16k");
}

TEST_CASE("Steps of a part of an octave land on the exact series and stay inside the plot")
{
    double hz = 1000.0;
    for (int i = 0; i < 12; ++i)
        hz = steppedFrequency(hz, 12, true);
    CHECK(hz == Approx(1995.262315)); // an octave of base ten: 10^0.3
    for (int i = 0; i < 3; ++i)
        hz = steppedFrequency(hz, 3, false);
    CHECK(hz == Approx(1000.0));
    CHECK(steppedFrequency(1234.0, 3, true) == Approx(1258.925412));
    CHECK(steppedFrequency(1234.0, 3, false) == Approx(1000.0));
    CHECK(steppedFrequency(20000.0, 12, true) == 20000.0);
    CHECK(steppedFrequency(20.0, 3, false) == 20.0);
}
