// What could pass here for the wrong reason: a density that is right in total but not over frequency; so
// white noise, a tone and a coloured noise of known density are all asked.

#include "Dsp/PowerDensity.h"
#include "Dsp/Random.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <complex>
#include <numbers>

using namespace plumbline;

TEST_CASE("White noise of variance v has the one-sided density 2 v / rate")
{
    Random random(5);
    std::vector<float> noise(480000);
    for (auto& x : noise)
        x = static_cast<float>(0.1 * random.normal());
    const PowerDensity density(noise, 48000.0);
    double sum = 0.0;
    for (double hz = 100.0; hz < 23000.0; hz += 10.0)
        sum += density.at(hz);
    CHECK(sum / 2290.0 == Approx(2.0 * 0.01 / 48000.0).epsilon(0.01));
    CHECK_FALSE(density.none());
}

TEST_CASE("First-order coloured noise has its textbook density")
{
    // y[n] = x[n] + a y[n-1]: density 2 v / rate / |1 - a exp(-j w)|^2 (any textbook of random processes).
    Random random(6);
    std::vector<float> noise(960000);
    double y = 0.0;
    for (auto& out : noise)
        out = static_cast<float>(y = random.normal() + 0.9 * y);
    const PowerDensity density(noise, 48000.0);
    for (const double hz : { 500.0, 2000.0, 8000.0, 20000.0 })
    {
        double mean = 0.0;
        for (int i = -100; i <= 100; ++i)
            mean += density.at(hz + i) / 201.0;
        const auto down = 1.0 - 0.9 * std::polar(1.0, -2.0 * std::numbers::pi * hz / 48000.0);
        CHECK(mean == Approx(2.0 / 48000.0 / std::norm(down)).epsilon(0.12));
    }
}

TEST_CASE("Silence and scraps have no density, and say so")
{
    CHECK(PowerDensity(std::vector<float>(1000, 0.0f), 48000.0).none());
    CHECK(PowerDensity(std::vector<float>(10, 0.5f), 48000.0).none());
    CHECK(PowerDensity(std::vector<float>(1000, 0.0f), 48000.0).at(100.0) == 0.0);
}
