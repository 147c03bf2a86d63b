// What could pass here for the wrong reason: a slope that is right in the design and wrong in the samples
// (the samples' own spectrum is checked), and a level that is right because it was fitted to the samples
// (it is set before one is drawn).

#include "PracticeRoom/RoomNoise.h"

#include "Dsp/Fft.h"

#include <catch2/catch.hpp>
#include <cmath>

using namespace plumbline;
using Colour = MicrophoneModel::NoiseColour;

namespace
{
constexpr std::size_t count = 1 << 20;

/** Mean power in [fromHz, toHz) of `count` samples at 48 kHz, per hertz and relative to white noise of
    power 1. */
double densityBetween(SpectrumBuffer& spectrum, double fromHz, double toHz)
{
    const double width = 48000.0 / static_cast<double>(count);
    double sum = 0.0;
    std::size_t bins = 0;
    for (auto k = static_cast<std::size_t>(std::ceil(fromHz / width)); static_cast<double>(k) * width < toHz;
         ++k, ++bins)
        sum += std::norm(spectrum.bins()[k]);
    return sum / static_cast<double>(bins * count);
}

void fill(SpectrumBuffer& buffer, RoomNoise& noise)
{
    for (std::size_t n = 0; n < count; ++n)
        buffer.samples()[n] = noise.next();
}
}

TEST_CASE("Pink noise falls by 3.01 dB an octave from 10 Hz on, in its design and in its samples")
{
    for (double rate : { 44100.0, 48000.0, 96000.0, 192000.0 })
    {
        const RoomNoise noise(Colour::pink, -20.0, rate, Random(7));
        double lowest = 1e9, highest = -1e9;
        for (double f = 10.0; f < 0.45 * rate; f *= 1.02)
        {
            const double straight = 10.0 * std::log10(noise.relativePower(f) * f);
            lowest = std::min(lowest, straight);
            highest = std::max(highest, straight);
        }
        INFO(rate);
        CHECK(highest - lowest < 0.30);
    }
    RoomNoise noise(Colour::pink, 0.0, 48000.0, Random(11));
    SpectrumBuffer spectrum(count);
    fill(spectrum, noise);
    spectrum.forward();
    const double reference = densityBetween(spectrum, 2000.0, 4000.0) * 2000.0;
    for (double from = 15.625; from < 16000.0; from *= 2.0)
    {
        // An octave from f has f / 0.046 Hz bins, each with an exponential power: s.d. 4.34 dB over their
        // root.
        const double deviation = 4.34 / std::sqrt(from / (48000.0 / static_cast<double>(count)));
        const double octave = densityBetween(spectrum, from, 2.0 * from) * from;
        INFO(from << " Hz");
        CHECK(std::abs(10.0 * std::log10(octave / reference)) < 0.2 + 4.0 * deviation);
    }
}

TEST_CASE("Noise has the level asked for, no offset, and the shape of a normal distribution")
{
    for (Colour colour : { Colour::white, Colour::pink })
    {
        RoomNoise noise(colour, -60.0, 48000.0, Random(5));
        SpectrumBuffer samples(count);
        fill(samples, noise);
        double mean = 0.0, square = 0.0, fourth = 0.0;
        for (std::size_t n = 0; n < count; ++n)
        {
            const double x = samples.samples()[n];
            mean += x / static_cast<double>(count);
            square += x * x / static_cast<double>(count);
            fourth += x * x * x * x / static_cast<double>(count);
        }
        // Over 22 s pink noise, half of it under 300 Hz, scatters by 0.07 dB s.d.; its mean by sqrt(S(0) /
        // 2T) = 3e-5.
        CHECK(10.0 * std::log10(square) == Approx(-60.0).margin(colour == Colour::pink ? 0.25 : 0.03));
        CHECK(std::abs(mean) < (colour == Colour::pink ? 1.2e-4 : 4e-6));
        CHECK(fourth / (square * square) == Approx(3.0).margin(0.1)); // a normal distribution's
    }
}

TEST_CASE("White noise is flat, and a seed gives its own noise again")
{
    RoomNoise noise(Colour::white, 0.0, 48000.0, Random(3)), again(Colour::white, 0.0, 48000.0, Random(3)),
        other(Colour::white, 0.0, 48000.0, Random(4));
    int same = 0;
    for (int n = 0; n < 1000; ++n)
    {
        const double value = noise.next();
        REQUIRE(value == again.next());
        same += value == other.next() ? 1 : 0;
    }
    CHECK(same == 0);
    SpectrumBuffer spectrum(count);
    fill(spectrum, noise);
    spectrum.forward();
    CHECK(10.0 * std::log10(densityBetween(spectrum, 100.0, 1000.0)) == Approx(0.0).margin(0.15));
    CHECK(10.0 * std::log10(densityBetween(spectrum, 10000.0, 20000.0)) == Approx(0.0).margin(0.05));
}
