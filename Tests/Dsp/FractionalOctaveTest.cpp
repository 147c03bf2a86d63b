// What could pass here for the wrong reason: a smoothing that is right for a flat spectrum only, and a
// formula compared with itself. The oracle is the closed form of power smoothing of 1 + a z^-tau.

#include "Dsp/FractionalOctave.h"
#include "Dsp/Random.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>
#include <rapidcheck.h>

using namespace plumbline;

TEST_CASE("Power smoothing of a sound and its echo follows the closed form")
{
    // Hatziantoniou & Mourjopoulos, JAES 48 (2000) 259: 1 + a^2 + 2 a sinc(BW tau) cos(2 pi fc tau) over the
    // window f 2^(+-1/2N); values from an independent script: 1 kHz, a = 0.5.
    struct Row
    {
        int perOctave;
        double delayMs, expectedDb;
    };

    for (const Row row : { Row{ 3, 1.0, 3.351159 }, Row{ 6, 1.0, 3.479372 }, Row{ 3, 5.0, 0.500240 },
                           Row{ 12, 5.0, 3.259714 }, Row{ 24, 5.0, 3.455780 } })
    {
        constexpr double binHz = 0.01;
        std::vector<double> power(150000);
        for (std::size_t k = 0; k < power.size(); ++k)
        {
            const double turns = static_cast<double>(k) * binHz * row.delayMs / 1000.0;
            power[k] = 1.25 + std::cos(2.0 * std::numbers::pi * turns);
        }
        const OctaveFraction smoothing{ row.perOctave };
        const BandPower bands(power, binHz);
        const double mean = bands.mean(smoothing.lowEdge(1000.0), smoothing.highEdge(1000.0));
        CHECK(10.0 * std::log10(mean) == Approx(row.expectedDb).margin(2e-5));
    }
}

TEST_CASE("The window is 2^(1/2N) wide either side")
{
    // Bandwidth over frequency, from an independent script.
    auto width = [](int n) { return OctaveFraction{ n }.highEdge(1.0) - OctaveFraction{ n }.lowEdge(1.0); };
    CHECK(width(1) == Approx(0.70710678).margin(1e-8));
    CHECK(width(3) == Approx(0.23156333).margin(1e-8));
    CHECK(width(12) == Approx(0.05777030).margin(1e-8));
    CHECK(OctaveFraction{ 0 }.lowEdge(500.0) == 500.0);
}

TEST_CASE("Smoothing keeps a flat spectrum flat and stays inside the range of what it averages")
{
    CHECK(rc::check("means lie between least and largest, and scale",
                    [](std::uint64_t seed)
                    {
                        Random random(seed);
                        std::vector<double> power(2000), scaled;
                        for (auto& value : power)
                            value = random.uniform() + 0.01;
                        for (const double value : power)
                            scaled.push_back(7.0 * value);
                        const double low = 20.0 + 800.0 * random.uniform();
                        const double high = low * (1.01 + random.uniform());
                        const double mean = BandPower(power, 1.0).mean(low, high);
                        RC_ASSERT(mean >= *std::min_element(power.begin(), power.end()) - 1e-12);
                        RC_ASSERT(mean <= *std::max_element(power.begin(), power.end()) + 1e-12);
                        RC_ASSERT(std::abs(BandPower(scaled, 1.0).mean(low, high) - 7.0 * mean) < 1e-9);
                        RC_ASSERT(std::abs(BandPower(std::vector<double>(2000, 3.0), 1.0).mean(low, high) -
                                           3.0) < 1e-9);
                    }));
}

TEST_CASE("Curves stand at 1000 2^(k/48) Hz inside the band")
{
    const auto hz = curveFrequencies(20.0, 20000.0);
    CHECK(hz.front() >= 20.0);
    CHECK(hz.front() < 20.0 * std::exp2(1.0 / 48.0));
    CHECK(hz.back() <= 20000.0);
    CHECK(std::count(hz.begin(), hz.end(), 1000.0) == 1);
    for (std::size_t i = 1; i < hz.size(); ++i)
        CHECK(hz[i] / hz[i - 1] == Approx(std::exp2(1.0 / 48.0)).epsilon(1e-12));
    CHECK(curveFrequencies(1000.0, 2000.0).size() == 49);
}
