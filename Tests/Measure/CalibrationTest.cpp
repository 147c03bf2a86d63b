// What could pass here for the wrong reason: a reader that is lenient where nobody looks, and an
// interpolation over linear frequency, which agrees at the points themselves. Values between the points are
// worked by hand.

#include "Measure/Calibration.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <limits>

using namespace plumbline;

namespace
{
Calibration read(const std::string& text)
{
    const auto result = parseCalibration("a microphone", text);
    INFO(text);
    if (!result.ok())
        FAIL(result.problem().sentence());
    return result.value();
}

std::string refusalOf(const std::string& text)
{
    const auto result = parseCalibration("a microphone", text);
    INFO(text);
    CHECK_FALSE(result.ok());
    if (result.ok())
        return "taken";
    CHECK(result.problem().code == "calibration-refused");
    CHECK(result.problem().where == "a microphone");
    return result.problem().sentence();
}
}

TEST_CASE("A level is linear over log frequency between points")
{
    const auto calibration = read("100 2\n400 -2\n10000 6\n");
    // 200 Hz is half-way from 100 to 400 in octaves: 0 dB. 1000 = 400 x 2.5, of 25: lg 2.5 / lg 25 of the
    // way.
    CHECK(calibration.levelDb(200.0) == Approx(0.0).margin(1e-12));
    CHECK(calibration.levelDb(100.0 * std::sqrt(2.0)) == Approx(1.0).margin(1e-12));
    CHECK(calibration.levelDb(1000.0) == Approx(-2.0 + 8.0 * 0.397940008672 / 1.397940008672).margin(1e-9));
    CHECK(calibration.levelDb(2000.0) == Approx(2.0).margin(1e-9)); // 400 x 5, of 5 x 5
}

TEST_CASE("Points themselves are met, and the ends are held beyond")
{
    const auto calibration = read("100 2 10\n400 -2 -30\n10000 6 90\n");
    for (const auto& point : calibration.points())
    {
        CHECK(calibration.levelDb(point.frequencyHz) == Approx(point.levelDb).margin(1e-12));
        CHECK(calibration.phaseDeg(point.frequencyHz) == Approx(point.phaseDeg).margin(1e-12));
    }
    CHECK(calibration.levelDb(1.0) == 2.0);
    CHECK(calibration.levelDb(96000.0) == 6.0);
    CHECK(calibration.phaseDeg(1.0) == 10.0);
    CHECK(calibration.phaseDeg(96000.0) == 90.0);
    CHECK(calibration.lowestHz() == 100.0);
    CHECK(calibration.highestHz() == 10000.0);
    CHECK(calibration.name() == "a microphone");
}

TEST_CASE("Phase follows the same rule, and is zero where the file has none")
{
    const auto with = read("100 0 -20\n10000 0 40\n");
    CHECK(with.hasPhase());
    CHECK(with.phaseDeg(1000.0) == Approx(10.0).margin(1e-12)); // half-way over two decades
    const auto without = read("100 1\n10000 1\n");
    CHECK_FALSE(without.hasPhase());
    CHECK(without.phaseDeg(1000.0) == 0.0);
    CHECK_FALSE(with == without);
}

TEST_CASE("Blanks, tabs and commas part the numbers; remarks and empty lines are passed over")
{
    const auto plain = read("20 -1.5\n1000 0\n20000 2.25\n");
    for (const std::string text :
         { "20\t-1.5\n1000\t0\n20000\t2.25\n", "20, -1.5\n1000, 0\n20000, +2.25",
           "# made by hand\n* another remark\n\n  20 -1.5  \n\t\n 1000 0\n20000 2.25\n",
           "20 -1.5\r\n1000 0\r\n20000 2.25\r\n", "2e1 -15e-1\n1.0e3 0.0\n2E4 2.25\n",
           "20 -1.5\n   # in the middle\n1000 -0.0\n20000 2.25\n\n\n" })
    {
        const auto calibration = read(text);
        REQUIRE(calibration.points().size() == 3);
        for (std::size_t i = 0; i < 3; ++i)
            CHECK(calibration.points()[i] == plain.points()[i]);
    }
}

TEST_CASE("Whatever is not two or three numbers is refused with its line")
{
    for (const std::string line : { "1000", "1000 0 0 0", "1000 abc", "abc 0", "1000 0dB", "1000 1.5.2",
                                    "1000; 0", "Freq SPL", "1000 0,5 1 2", "0x10 1", "1000 --3", "1000 +-3",
                                    "1000 1e", "\"1000\" 0", "1000 1 # in the line" })
    {
        CAPTURE(line);
        CHECK_THAT(refusalOf("# remark\n20 0\n" + line + "\n20000 0\n"), Catch::Contains("Line 3 "));
    }
}

TEST_CASE("A phase stands in every line or in none")
{
    CHECK_THAT(refusalOf("20 0 5\n1000 0\n20000 0 5\n"), Catch::Contains("Line 2 "));
    CHECK_THAT(refusalOf("20 0\n1000 0\n20000 0 5\n"), Catch::Contains("Line 3 "));
}

TEST_CASE("A decimal comma is refused rather than read as something else")
{
    // "1000,0 -1,5" has four numbers for a reader that takes the comma as a parting.
    CHECK_THAT(refusalOf("20,0 -1,5\n1000,0 0,0\n"), Catch::Contains("Line 1 "));
}

TEST_CASE("A missing value between two commas is refused rather than passed over")
{
    // Otherwise the phase would be read as the level.
    CHECK_THAT(refusalOf("20,,45\n1000,,50\n"), Catch::Contains("Line 1 "));
    CHECK_THAT(refusalOf("20,0\n1000,,1\n"), Catch::Contains("Line 2 "));
}

TEST_CASE("Frequencies must ascend from above zero")
{
    for (const std::string text : { "20 0\n20 1\n", "1000 0\n20 1\n", "0 0\n20 1\n", "-5 0\n20 1\n" })
        CHECK_THAT(refusalOf(text), Catch::Contains("ascend"));
}

TEST_CASE("Fewer than two points are refused")
{
    for (const std::string text : { "", "\n\n", "# nothing but a remark", "1000 0\n" })
        CHECK_THAT(refusalOf(text), Catch::Contains("fewer than two points"));
}

TEST_CASE("Values that cannot be a level are refused, and the largest that can be are taken")
{
    for (const std::string text :
         { "20 nan\n1000 0\n", "20 inf\n1000 0\n", "20 100.1\n1000 0\n", "20 -101\n1000 0\n",
           "20 0 nan\n1000 0 0\n", "20 0\ninf 0\n", "nan 0\n1000 0\n" })
        refusalOf(text);
    CHECK(read("20 100\n1000 -100\n").levelDb(20.0) == 100.0);
}

TEST_CASE("A number beyond what a double holds is refused")
{
    refusalOf("20 0\n1e999 0\n");
    refusalOf("20 1e999\n1000 0\n");
}

TEST_CASE("Points given by hand go through the same checks")
{
    const double none = std::numeric_limits<double>::quiet_NaN();
    using Point = Calibration::Point;
    CHECK(Calibration::fromPoints("x", { Point{ 20, 0, 0 }, Point{ 30, 1, 0 } }, false).ok());
    CHECK_FALSE(Calibration::fromPoints("x", {}, false).ok());
    CHECK_FALSE(Calibration::fromPoints("x", { Point{ 20, none, 0 }, Point{ 30, 1, 0 } }, false).ok());
    CHECK_FALSE(Calibration::fromPoints("x", { Point{ 20, 0, none }, Point{ 30, 1, 0 } }, true).ok());
    CHECK_FALSE(Calibration::fromPoints("x", { Point{ none, 0, 0 }, Point{ 30, 1, 0 } }, false).ok());
    CHECK_FALSE(Calibration::fromPoints("x", { Point{ 30, 0, 0 }, Point{ 20, 1, 0 } }, false).ok());
}

TEST_CASE("A calibration is a value: equal ones compare equal")
{
    const auto one = read("20 0\n1000 1\n");
    auto two = one;
    CHECK(one == two);
    two = read("20 0\n1000 1.0000001\n");
    CHECK_FALSE(one == two);
}
