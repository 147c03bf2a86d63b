// What could pass here for the wrong reason: a prediction that agrees with its own formula. So noise of a
// known density is really divided by a really played sweep, and its error counted; and the deviation of a
// level is drawn, many thousand times.

#include "Measure/NoiseFloor.h"
#include "Core/Units.h"
#include "Dsp/Random.h"
#include "Measure/ImpulseResponse.h"
#include "Support/Captures.h"

#include <catch2/catch.hpp>
#include <limits>

using namespace plumbline;
using namespace plumbline::test;

namespace
{
std::vector<float> whiteNoise(std::size_t count, double deviation, std::uint64_t seed)
{
    Random random(seed);
    std::vector<float> noise(count);
    for (float& x : noise)
        x = static_cast<float>(deviation * random.normal());
    return noise;
}

constexpr double deviation = 0.01;
constexpr double leadInSeconds = 10.0;

/** Four standard deviations of a density learnt over 1/N octave: bandwidth x time values, each scattering by
    itself. */
double fourDeviations(double hz, int perOctave)
{
    const double width = hz * (std::exp2(0.5 / perOctave) - std::exp2(-0.5 / perOctave));
    return 4.0 / std::sqrt(width * leadInSeconds);
}

/** A flat system, its played sweep, and a long lead-in of white noise. */
struct Fixture
{
    Stimulus stimulus = shortStimulus(48000.0, 2.0, -20.0);
    PlayedSpectrum played{ playedSweep(stimulus), fastTransformLength(stimulus.segmentSamples()) };
    PowerDensity noise{ whiteNoise(static_cast<std::size_t>(48000.0 * leadInSeconds), deviation, 11),
                        48000.0 };

    NoiseFloor floor(double share = 1.0) const
    {
        return { { &noise, &played, stimulus.segmentSamples(), 48000.0 }, share };
    }

    /** |N|^2 a bin is v x samples; |X|^2 is (rate / 2)^2 L / f x peak^2 (Novak, Lotton, Simon, JAES 63
        (2015)). */
    double expectedError(double hz) const
    {
        const double peak = std::pow(10.0, -20.0 / 20.0);
        return deviation * deviation * static_cast<double>(stimulus.segmentSamples()) * hz /
               (std::pow(24000.0 * peak, 2.0) * stimulus.sweep.rateSeconds);
    }
};
}

TEST_CASE("White noise is an error whose power grows with frequency as the sweep's own falls")
{
    const Fixture fixture;
    const auto floor = fixture.floor();
    CHECK_FALSE(floor.none());
    for (const double hz : { 200.0, 500.0, 1000.0, 3000.0, 10000.0, 18000.0 })
    {
        CAPTURE(hz);
        CHECK(floor.errorPower(hz, { 0 }) ==
              Approx(fixture.expectedError(hz)).epsilon(fourDeviations(hz, 24)));
    }
}

TEST_CASE("Smoothed over a third of an octave the error is that of the window's middle")
{
    // A mean over linear frequency of what grows with f is its value at the arithmetic centre f (2^(1/6) +
    // 2^(-1/6)) / 2.
    const Fixture fixture;
    for (const double hz : { 100.0, 500.0, 1000.0, 3000.0, 10000.0 })
    {
        CAPTURE(hz);
        const double centre = hz * 0.5 * (std::exp2(1.0 / 6.0) + std::exp2(-1.0 / 6.0));
        CHECK(fixture.floor().errorPower(hz, { 3 }) ==
              Approx(fixture.expectedError(centre)).epsilon(fourDeviations(hz, 3)));
    }
}

TEST_CASE("A gate lets through its share of the error")
{
    const Fixture fixture;
    CHECK(fixture.floor(0.1).errorPower(1000.0, { 3 }) ==
          Approx(0.1 * fixture.floor(1.0).errorPower(1000.0, { 3 })).epsilon(1e-9));
}

TEST_CASE("Noise really divided by the sweep has the error power predicted")
{
    const Fixture fixture;
    const auto range = excitedRange(fixture.stimulus.sweep, fixture.stimulus.spec.band);
    const auto noise = whiteNoise(fixture.stimulus.segmentSamples(), deviation, 12);
    const auto error = deconvolve(noise, fixture.played, 48000.0, range);
    const double binHz = 48000.0 / static_cast<double>(error.length());
    for (const double hz : { 300.0, 1000.0, 4000.0, 12000.0 })
    {
        double sum = 0.0;
        const OctaveFraction third{ 3 };
        const auto first = static_cast<std::size_t>(third.lowEdge(hz) / binHz);
        const auto last = static_cast<std::size_t>(third.highEdge(hz) / binHz);
        for (auto k = first; k <= last; ++k)
            sum += std::norm(error.bins()[k]) / static_cast<double>(last - first + 1);
        CAPTURE(hz);
        CHECK(fixture.floor().errorPower(hz, third) == Approx(sum).epsilon(hz < 1000.0 ? 0.3 : 0.12));
    }
}

TEST_CASE("The noise a sample of the response is the integral of its error, and what really comes out")
{
    const Fixture fixture;
    const double predicted = fixture.floor().powerPerSample(20.0, 20000.0);
    // Parseval: 2 / N^2 x N / rate x the integral of the error, which is proportional to f.
    const auto points = static_cast<double>(fixture.played.length());
    const double integral = fixture.expectedError(1.0) * (20000.0 * 20000.0 - 20.0 * 20.0) / 2.0;
    CHECK(predicted == Approx(2.0 * integral / (points * 48000.0)).epsilon(0.02));
    // Counted: noise of the segment's length divided by the sweep, what lies outside the band put to zero.
    const auto noise = whiteNoise(fixture.stimulus.segmentSamples(), deviation, 13);
    auto error = deconvolve(noise, fixture.played, 48000.0, excitedRange(fixture.stimulus.sweep, {}));
    for (std::size_t k = 0; k < error.binCount(); ++k)
        if (const double hz = static_cast<double>(k) * 48000.0 / points; hz < 20.0 || hz > 20000.0)
            error.bins()[k] = 0.0;
    const ImpulseResponse response(std::move(error), 48000.0);
    double sum = 0.0;
    for (std::size_t i = 0; i < response.length(); ++i)
        sum += std::pow(response.at(static_cast<std::ptrdiff_t>(i)), 2.0) / points;
    CHECK(predicted == Approx(sum).epsilon(0.03));
    // It is that of the ungated response, whatever share is kept.
    CHECK(fixture.floor(0.2).powerPerSample(20.0, 20000.0) == Approx(predicted).epsilon(1e-9));
}

TEST_CASE("A lead-in of zeros has no noise and adds no error")
{
    const Fixture fixture;
    const PowerDensity silence(std::vector<float>(48000, 0.0f), 48000.0);
    const NoiseFloor floor({ &silence, &fixture.played, fixture.stimulus.segmentSamples(), 48000.0 }, 1.0);
    CHECK(floor.none());
    CHECK(floor.errorPower(1000.0, { 12 }) == 0.0);
    CHECK(floor.powerPerSample(20.0, 20000.0) == 0.0);
}

TEST_CASE("Where nothing was played the error is infinite")
{
    const Fixture fixture;
    const PlayedSpectrum nothing(std::vector<float>(1000, 0.0f), 4096);
    const NoiseFloor floor({ &fixture.noise, &nothing, 4096, 48000.0 }, 1.0);
    CHECK(std::isinf(floor.errorPower(1000.0, { 3 })));
}

TEST_CASE("The predicted deviation of a level is that of many drawn ones")
{
    struct Case
    {
        double errorPower; ///< against a response of power 1
        int values;
    };

    for (const auto& [error, values] : { Case{ 1e-4, 1 }, Case{ 1e-3, 1 }, Case{ 1e-3, 10 }, Case{ 0.02, 10 },
                                         Case{ 0.05, 30 }, Case{ 0.3, 300 } })
    {
        Random random(21);
        constexpr int trials = 20000;
        double sum = 0.0, square = 0.0;
        for (int trial = 0; trial < trials; ++trial)
        {
            double power = 0.0;
            for (int i = 0; i < values; ++i)
            {
                // Complex error of mean power `error`: half of it in each part.
                const double re = 1.0 + std::sqrt(error / 2.0) * random.normal();
                const double im = std::sqrt(error / 2.0) * random.normal();
                power += (re * re + im * im) / values;
            }
            const double level = 10.0 * std::log10(power - error);
            sum += level;
            square += level * level;
        }
        const double mean = sum / trials;
        const double drawn = std::sqrt((square - sum * mean) / (trials - 1));
        CAPTURE(error, values, drawn);
        CHECK(levelDeviationDb(1.0, error, values) == Approx(drawn).epsilon(0.04)); // 0.5 % is the draw's own
        CHECK(std::abs(mean) < 0.25 * drawn);
    }
}

TEST_CASE("The deviation is the closed form of the header")
{
    // 10 / ln 10 x sqrt((2 P e + e^2) / n) / P, worked by hand: P 4, e 0.5, n 8 -> 4.342945 x sqrt(4.25 / 8)
    // / 4.
    CHECK(levelDeviationDb(4.0, 0.5, 8.0) == Approx(4.342944819 * std::sqrt(4.25 / 8.0) / 4.0).epsilon(1e-9));
    CHECK(levelDeviationDb(1.0, 0.0, 5.0) == 0.0);
    CHECK(levelDeviationDb(1.0, 0.01, 0.02) == levelDeviationDb(1.0, 0.01, 1.0));
    CHECK(std::isinf(levelDeviationDb(0.0, 0.01, 10.0)));
    CHECK(std::isinf(levelDeviationDb(-1.0, 0.01, 10.0)));
    CHECK(levelDeviationDb(100.0, 1.0, 7.0) == Approx(levelDeviationDb(1.0, 0.01, 7.0)).epsilon(1e-12));
}
