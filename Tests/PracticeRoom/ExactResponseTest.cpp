// What could pass here for the wrong reason: a short response, in which phases cannot drift. This one is
// 40,000 long.

#include "PracticeRoom/ExactResponse.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

using namespace plumbline;

TEST_CASE("The exact response of a decaying exponential is its geometric series")
{
    constexpr std::size_t count = 40001;
    constexpr double rate = 48000.0, ratio = 0.9995;
    std::vector<double> taps(count);
    for (std::size_t n = 0; n < count; ++n)
        taps[n] = std::pow(ratio, static_cast<double>(n));
    const std::vector<double> frequencies{ 0.0, 20.0, 997.3, 5000.1, 19999.9, 24000.0 };
    const auto response = exactResponse(taps, rate, frequencies);
    REQUIRE(response.size() == frequencies.size());
    for (std::size_t i = 0; i < frequencies.size(); ++i)
    {
        const double w = 2.0 * std::numbers::pi * frequencies[i] / rate;
        const std::complex<double> end = std::polar(std::pow(ratio, static_cast<double>(count)),
                                                    -std::remainder(w * count, 2 * std::numbers::pi));
        const std::complex<double> closed = (1.0 - end) / (1.0 - std::polar(ratio, -w));
        INFO(frequencies[i]);
        CHECK(std::abs(response[i] - closed) < 1e-11); // the taps' magnitudes add up to 2000
    }
}

TEST_CASE("A single tap late in the response turns the phase by its place")
{
    std::vector<double> taps(30001, 0.0);
    taps.back() = -0.5;
    const std::vector<double> frequencies{ 1234.5 };
    const auto response = exactResponse(taps, 44100.0, frequencies);
    const double cycles = std::fmod(1234.5 * 30000.0 / 44100.0, 1.0);
    CHECK(std::abs(response[0] - -0.5 * std::polar(1.0, -2.0 * std::numbers::pi * cycles)) < 1e-11);
    CHECK(exactResponse(std::vector<double>{}, 44100.0, frequencies)[0] == std::complex<double>(0.0));
}
