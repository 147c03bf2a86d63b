// What could pass here for the wrong reason: a gate whose energy is its own formula; so weights are read by
// gating ones and squared one by one. An automatic gate that is always as long as it may be, or always 150
// ms; so decays of several lengths and noises are asked, and each must meet its own crossing.

#include "Measure/Gate.h"
#include "Dsp/Random.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>
#include <numeric>

using namespace plumbline;

namespace
{
constexpr double rate = 48000.0;

std::vector<double> weightsOf(const Gate& gate)
{
    std::vector<double> ones(gate.length(), 1.0);
    gate.apply(ones);
    return ones;
}

/** A response given by its samples from time zero. */
ImpulseResponse responseFrom(const std::vector<double>& samples)
{
    SpectrumBuffer buffer(fastTransformLength(samples.size()));
    std::copy(samples.begin(), samples.end(), buffer.samples());
    std::fill(buffer.samples() + samples.size(), buffer.samples() + buffer.length(), 0.0);
    buffer.forward();
    return { std::move(buffer), rate };
}

struct Decay
{
    double t60Seconds;
    double noiseDb; ///< power of the noise a sample, against the decay's first
};

constexpr std::size_t arrivalAt = 1000;

/** Noise that decays by 60 dB in T60, on a steady noise; power 1 at the arrival. */
ImpulseResponse decaying(const Decay& decay, std::uint64_t seed)
{
    Random random(seed);
    std::vector<double> samples(96000);
    for (std::size_t i = 0; i < samples.size(); ++i)
    {
        const double t = (static_cast<double>(i) - static_cast<double>(arrivalAt)) / rate;
        const double signal = t < 0.0 ? 0.0 : std::pow(10.0, -3.0 * t / decay.t60Seconds);
        samples[i] = signal * random.normal() + std::pow(10.0, decay.noiseDb / 20.0) * random.normal();
    }
    return responseFrom(samples);
}

const GateLimits roomy{ static_cast<double>(arrivalAt), 480, 90000 };

/** From the arrival to where the gate begins to fall. */
double heldSeconds(const Gate& gate)
{
    const auto end = gate.firstSample + static_cast<std::ptrdiff_t>(gate.riseSamples + gate.flatSamples);
    return static_cast<double>(end - static_cast<std::ptrdiff_t>(arrivalAt)) / rate;
}
}

TEST_CASE("A gate rises as a half-cosine, is flat, and falls as a half-cosine")
{
    const Gate gate{ 100, 40, 200, 60 };
    CHECK(gate.length() == 300);
    const auto weights = weightsOf(gate);
    for (std::size_t i = 0; i < 40; ++i)
        REQUIRE(
            weights[i] ==
            Approx(std::pow(std::sin(std::numbers::pi / 2.0 * (static_cast<double>(i) + 0.5) / 40.0), 2)));
    CHECK(std::all_of(weights.begin() + 40, weights.begin() + 240, [](double w) { return w == 1.0; }));
    for (std::size_t i = 0; i < 60; ++i)
        REQUIRE(
            weights[299 - i] ==
            Approx(std::pow(std::sin(std::numbers::pi / 2.0 * (static_cast<double>(i) + 0.5) / 60.0), 2)));
}

TEST_CASE("A gate's energy is the sum of its squared weights")
{
    for (const Gate gate :
         { Gate{ 0, 40, 200, 60 }, Gate{ 0, 0, 100, 0 }, Gate{ -20, 7, 0, 900 }, Gate{ 5, 240, 9000, 2400 } })
    {
        const auto weights = weightsOf(gate);
        const double sum = std::inner_product(weights.begin(), weights.end(), weights.begin(), 0.0);
        CHECK(gate.energy() == Approx(sum).margin(1e-6));
    }
}

TEST_CASE("A fixed gate ends so many milliseconds after the arrival, and falls over its last fifth")
{
    for (const double milliseconds : { 5.0, 20.0, 200.0 })
    {
        CAPTURE(milliseconds);
        const auto gate = fixedGate({ 1234.7, 480, 48000 }, milliseconds, rate);
        const auto after = static_cast<std::ptrdiff_t>(std::lround(milliseconds * 48.0));
        CHECK(gate.firstSample + static_cast<std::ptrdiff_t>(gate.length()) == 1234 + after);
        CHECK(gate.fallSamples == static_cast<std::size_t>(after / 5));
        CHECK(gate.firstSample < 1234);
        CHECK(gate.firstSample >= 1234 - 480);
        // The arrival itself is kept whole.
        CHECK(weightsOf(gate).at(static_cast<std::size_t>(1234 - gate.firstSample)) == 1.0);
    }
}

TEST_CASE("A fixed gate is cut to what there is, on either side")
{
    const auto cut = fixedGate({ 1000.0, 480, 3000 }, 500.0, rate);
    CHECK(cut.firstSample + static_cast<std::ptrdiff_t>(cut.length()) == 4000);
    CHECK(cut.firstSample == 520);
    const auto early = fixedGate({ 1000.0, 10, 48000 }, 100.0, rate);
    CHECK(early.firstSample == 990);
    // A short gate does not look further back than it looks forward.
    const auto brief = fixedGate({ 1000.0, 4800, 48000 }, 2.0, rate);
    CHECK(1000 - brief.firstSample <= 96);
}

TEST_CASE("Hardly any gate at all is still a gate")
{
    for (const double milliseconds : { 0.0, 0.001, 0.05 })
    {
        const auto gate = fixedGate({ 1000.0, 480, 48000 }, milliseconds, rate);
        CHECK(gate.length() >= 1);
        CHECK(gate.length() < 10);
    }
}

TEST_CASE("The automatic gate keeps the decay whole until it comes within 6 dB of the noise")
{
    // Decay and noise together are 6 dB (4 times) over the noise where the decay alone is 3 times it:
    // t = T60 / 60 x 10 lg(decay / 3 noise), by the definition of T60.
    for (const Decay decay : { Decay{ 0.3, -50.0 }, Decay{ 0.3, -70.0 }, Decay{ 0.5, -40.0 },
                               Decay{ 0.5, -60.0 }, Decay{ 0.8, -45.0 }, Decay{ 1.2, -50.0 } })
        for (const std::uint64_t seed : { 1u, 2u, 3u })
        {
            const auto gate =
                automaticGate(decaying(decay, seed), roomy, std::pow(10.0, decay.noiseDb / 10.0));
            const double predicted = decay.t60Seconds / 60.0 * (-decay.noiseDb - 10.0 * std::log10(3.0));
            CAPTURE(decay.t60Seconds, decay.noiseDb, seed, predicted);
            CHECK(heldSeconds(gate) == Approx(predicted).epsilon(0.15));
            // The fall comes after the decay's end, so that none of it is lost.
            CHECK(static_cast<double>(gate.fallSamples) / rate ==
                  Approx(0.25 * heldSeconds(gate)).epsilon(0.02));
        }
}

TEST_CASE("More noise makes a shorter gate")
{
    double before = 10.0;
    for (const double noiseDb : { -80.0, -65.0, -50.0, -35.0 })
    {
        const auto gate = automaticGate(decaying({ 0.6, noiseDb }, 4), roomy, std::pow(10.0, noiseDb / 10.0));
        CHECK(heldSeconds(gate) < before);
        before = heldSeconds(gate);
    }
}

TEST_CASE("Without noise the automatic gate ends 90 dB down")
{
    for (const double t60 : { 0.2, 0.4, 0.8 })
    {
        CAPTURE(t60);
        const auto gate = automaticGate(decaying({ t60, -400.0 }, 5), roomy, 0.0);
        CHECK(heldSeconds(gate) == Approx(1.5 * t60).epsilon(0.1));
    }
}

TEST_CASE("The automatic gate is at least 150 ms long, or as long as there is")
{
    const auto dry = decaying({ 0.02, -400.0 }, 6);
    const auto gate = automaticGate(dry, roomy, 0.0);
    CHECK(gate.firstSample + static_cast<std::ptrdiff_t>(gate.length()) ==
          static_cast<std::ptrdiff_t>(arrivalAt) + 7200);
    const auto cut = automaticGate(dry, { static_cast<double>(arrivalAt), 480, 3000 }, 0.0);
    CHECK(cut.firstSample + static_cast<std::ptrdiff_t>(cut.length()) ==
          static_cast<std::ptrdiff_t>(arrivalAt) + 3000);
}

TEST_CASE("The automatic gate never goes beyond the silence, however long the decay")
{
    const auto gate =
        automaticGate(decaying({ 5.0, -400.0 }, 7), { static_cast<double>(arrivalAt), 480, 24000 }, 0.0);
    CHECK(gate.firstSample + static_cast<std::ptrdiff_t>(gate.length()) ==
          static_cast<std::ptrdiff_t>(arrivalAt) + 24000);
    CHECK(gate.firstSample == static_cast<std::ptrdiff_t>(arrivalAt) - 480);
}

TEST_CASE("A decay that lies in the noise from the first gets the shortest gate")
{
    const auto gate = automaticGate(decaying({ 0.5, 10.0 }, 8), roomy, 10.0);
    CHECK(gate.firstSample + static_cast<std::ptrdiff_t>(gate.length()) ==
          static_cast<std::ptrdiff_t>(arrivalAt) + 7200);
}
