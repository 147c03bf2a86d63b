// What could pass here for the wrong reason: a Bessel series that is right near zero only.

#include "Dsp/Windows.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <vector>

using namespace plumbline;

TEST_CASE("The Bessel function I0 has its tabulated values")
{
    // Abramowitz & Stegun, table 9.8 and 9.11 (from memory of the printed digits), and the standard library
    // where it has one.
    CHECK(besselI0(0.0) == 1.0);
    CHECK(besselI0(1.0) == Approx(1.2660658777520084).epsilon(1e-14));
    CHECK(besselI0(5.0) == Approx(27.239871823604442).epsilon(1e-14));
    for (const double x : { 0.3, 2.0, 8.0, 14.5, 30.0, 50.0 })
        CHECK(besselI0(x) == Approx(std::cyl_bessel_i(0.0, x)).epsilon(1e-12));
}

TEST_CASE("A rising and a falling half-cosine add up to one")
{
    std::vector<double> up(100, 1.0), down(100, 1.0);
    fadeIn(up, 100);
    fadeOut(down, 100);
    for (std::size_t i = 0; i < 100; ++i)
        CHECK(up[i] + down[i] == Approx(1.0).margin(1e-14));
    CHECK(up.front() > 0.0);
    CHECK(up.front() < 0.001);
}

TEST_CASE("A Kaiser window is one in its middle and nothing outside")
{
    CHECK(kaiser(0.0, 9.0) == 1.0);
    CHECK(kaiser(1.0001, 9.0) == 0.0);
    CHECK(kaiser(1.0, 9.0) == Approx(1.0 / besselI0(9.0)).epsilon(1e-12));
}
