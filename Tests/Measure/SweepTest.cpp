// What could pass here for the wrong reason: a sweep compared with its own formula. So its harmonics are made
// from the samples alone, its spectrum is summed term by term and compared with the paper's closed form, and
// its times are read from the samples' own instantaneous frequency.

#include "Measure/Sweep.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <complex>
#include <limits>
#include <numbers>

using namespace plumbline;

namespace
{
constexpr double pi = std::numbers::pi;

Sweep sweepOf(double rate, double seconds, Band band = {})
{
    return designSweep(rate, seconds, band).value();
}

/** Fourier sum by its definition, divided by the rate: the spectrum of a sampled signal in units of seconds.
    */
std::complex<double> spectrumAt(const std::vector<double>& samples, double hz, double rate)
{
    std::complex<double> sum = 0.0;
    const auto turn = std::polar(1.0, -2.0 * pi * hz / rate);
    constexpr std::size_t fresh = 256; // the rotation is begun anew so often that rounding does not gather
    for (std::size_t from = 0; from < samples.size(); from += fresh)
    {
        auto rotation = std::polar(1.0, -2.0 * pi * std::fmod(hz * static_cast<double>(from) / rate, 1.0));
        for (std::size_t i = from; i < std::min(from + fresh, samples.size()); ++i, rotation *= turn)
            sum += samples[i] * rotation;
    }
    return sum / rate;
}

double decibels(double ratio)
{
    return 20.0 * std::log10(ratio);
}

/** The samples read between their places: a Hann-windowed sinc of 200 taps, for signals well under half the
    rate. */
double between(const std::vector<double>& samples, double place)
{
    constexpr int reach = 100;
    const auto middle = static_cast<std::ptrdiff_t>(std::floor(place));
    double sum = 0.0;
    for (std::ptrdiff_t i = middle - reach + 1; i <= middle + reach; ++i)
    {
        const double x = place - static_cast<double>(i);
        const double sinc = x == 0.0 ? 1.0 : std::sin(pi * x) / (pi * x);
        sum += samples.at(static_cast<std::size_t>(i)) * sinc * (0.5 + 0.5 * std::cos(pi * x / (reach + 1)));
    }
    return sum;
}

/** 20 Hz to 20 kHz at all the usual rates, and narrower bands. */
struct Design
{
    double rate, seconds;
    Band band;
};

const Design designs[] = { { 44100.0, 1.0, {} },
                           { 44100.0, 10.0, {} },
                           { 48000.0, 1.0, {} },
                           { 48000.0, 30.0, {} },
                           { 96000.0, 3.0, {} },
                           { 192000.0, 1.0, {} },
                           { 96000.0, 5.0, { 5.0, 43000.0 } },
                           { 48000.0, 2.0, { 1000.0, 2000.0 } },
                           { 8000.0, 1.5, { 50.0, 3640.0 } },
                           { 48000.0, 4.0, { 200.0, 21840.0 } } };
}

TEST_CASE("The start frequency times the rate of growth is a whole number of turns")
{
    for (const auto& [rate, seconds, band] : designs)
    {
        const auto sweep = sweepOf(rate, seconds, band);
        CAPTURE(rate, seconds, band.fromHz, band.toHz);
        const double turns = sweep.startHz * sweep.rateSeconds;
        CHECK(turns >= 1.0 - 1e-9);
        CHECK(std::abs(turns - std::round(turns)) < 1e-9);
        // So the form with "- 1" (Farina, AES 108 (2000)) is the same signal: it begins with a rising zero.
        CHECK(std::abs(synthesise(sweep).front()) < 1e-9);
    }
}

TEST_CASE("A sweep lasts as long as was asked, but for the whole number of turns")
{
    for (const auto& [rate, seconds, band] : designs)
    {
        const auto sweep = sweepOf(rate, seconds, band);
        CAPTURE(rate, seconds, band.fromHz, band.toHz);
        const double octavesE = std::log(sweep.endHz / sweep.startHz);
        const double asked = seconds / octavesE;
        CHECK(std::abs(sweep.rateSeconds - asked) <= 0.5 / sweep.startHz + 1e-12);
        // T = L ln(f2 / f1), Novak, Lotton, Simon, JAES 63 (2015) 786.
        const double length = sweep.rateSeconds * octavesE * rate;
        CHECK(static_cast<double>(sweep.samples) - length > 0.0);
        CHECK(static_cast<double>(sweep.samples) - length <= 1.0);
        CHECK(synthesise(sweep).size() == sweep.samples);
    }
}

TEST_CASE("Where the length asked for holds not even one whole turn, the sweep is as long as one turn needs")
{
    // 5 Hz to 20 kHz in a second: f1 L would be 0.4. With f1 L = 1 the length is ln(f2 / f1) / f1.
    const auto sweep = sweepOf(48000.0, 1.0, { 5.0, 20000.0 });
    CHECK(sweep.startHz * sweep.rateSeconds == Approx(1.0).margin(1e-12));
    const double seconds = std::log(sweep.endHz / sweep.startHz) / sweep.startHz;
    CHECK(static_cast<double>(sweep.samples) == Approx(seconds * 48000.0).margin(1.0));
    CHECK(seconds > 2.0);
}

TEST_CASE("The sweep passes each frequency at L ln(f / f1)")
{
    // The formula t = L ln(f / f1) is the paper's; the samples are asked by counting their zeros.
    const auto sweep = sweepOf(48000.0, 10.0);
    const auto samples = synthesise(sweep);
    for (const double hz : { 50.0, 100.0, 200.0, 500.0, 1000.0, 2000.0, 5000.0 })
    {
        CAPTURE(hz);
        const double seconds = sweep.rateSeconds * std::log(hz / sweep.startHz);
        CHECK(sweep.timeOfFrequency(hz) == Approx(seconds).margin(1e-12));
        // Between two rising zeros that many whole turns are made: f1 L (e^(b/L) - e^(a/L)).
        const auto from = static_cast<std::size_t>((seconds - 8.0 / hz) * 48000.0);
        const auto to = static_cast<std::size_t>((seconds + 8.0 / hz) * 48000.0);
        double firstZero = -1.0, lastZero = -1.0;
        int zeros = 0;
        for (std::size_t i = from; i < to; ++i)
            if (samples[i] < 0.0 && samples[i + 1] >= 0.0)
            {
                const double slope = samples[i + 1] - samples[i];
                lastZero = static_cast<double>(i) - samples[i] / slope;
                firstZero = firstZero < 0.0 ? lastZero : firstZero;
                ++zeros;
            }
        REQUIRE(zeros > 10);
        auto growth = [&](double place) { return std::exp(place / 48000.0 / sweep.rateSeconds); };
        const double turns = sweep.startHz * sweep.rateSeconds * (growth(lastZero) - growth(firstZero));
        CHECK(turns == Approx(zeros - 1.0).margin(0.005));
        // And the sweep's own start leads to this frequency at this time.
        CHECK(sweep.startHz * growth(seconds * 48000.0) == Approx(hz).epsilon(1e-9));
    }
}

TEST_CASE("Times between frequencies are those of the published table")
{
    // 20 Hz to 20 kHz takes L ln 1000 = 6.907755279 L; an octave L ln 2 (values from an independent script).
    const auto sweep = sweepOf(48000.0, 10.0);
    auto span = [&](double from, double to)
    { return sweep.timeOfFrequency(to) - sweep.timeOfFrequency(from); };
    CHECK(span(20.0, 20000.0) / sweep.rateSeconds == Approx(6.907755279).margin(1e-9));
    CHECK(span(1000.0, 2000.0) / sweep.rateSeconds == Approx(0.693147181).margin(1e-9));
    CHECK(sweep.timeOfFrequency(sweep.startHz) == 0.0);
    // Advance of harmonic n over L, from the table of f1 L = 29: 1.005063 / 1.45 and so on.
    CHECK(sweep.harmonicAdvanceSeconds(1) == 0.0);
    CHECK(sweep.harmonicAdvanceSeconds(2) / sweep.rateSeconds == Approx(1.005063 / 1.45).margin(1e-6));
    CHECK(sweep.harmonicAdvanceSeconds(3) / sweep.rateSeconds == Approx(1.592988 / 1.45).margin(1e-6));
    CHECK(sweep.harmonicAdvanceSeconds(5) / sweep.rateSeconds == Approx(2.333685 / 1.45).margin(1e-6));
    CHECK(sweep.harmonicAdvanceSeconds(10) / sweep.rateSeconds == Approx(3.338748 / 1.45).margin(1e-6));
}

TEST_CASE("The third and fifth harmonics are the sweep itself, L ln n later")
{
    // sin 3p = 3 sin p - 4 sin^3 p and sin 5p = 16 sin^5 p - 20 sin^3 p + 5 sin p: made from the samples
    // alone.
    const auto sweep = sweepOf(96000.0, 2.0);
    const auto samples = synthesise(sweep);
    for (const double hz : { 25.0, 80.0, 300.0, 1000.0, 3000.0 })
    {
        CAPTURE(hz);
        const auto at = static_cast<std::size_t>(sweep.timeOfFrequency(hz) * 96000.0);
        for (std::size_t i = at; i < at + 50; ++i)
        {
            const double x = samples[i], cube = x * x * x;
            const double third = static_cast<double>(i) + sweep.harmonicAdvanceSeconds(3) * 96000.0;
            const double fifth = static_cast<double>(i) + sweep.harmonicAdvanceSeconds(5) * 96000.0;
            REQUIRE(between(samples, third) == Approx(3.0 * x - 4.0 * cube).margin(2e-4));
            REQUIRE(between(samples, fifth) ==
                    Approx(16.0 * cube * x * x - 20.0 * cube + 5.0 * x).margin(2e-4));
        }
    }
}

TEST_CASE("The spectrum is the paper's closed form in level and phase")
{
    // 1/2 sqrt(L / f) exp[j 2 pi f L (1 - ln(f / f1)) - j pi / 4]: Novak et al. (2015); 0.05 dB and 0.5
    // degrees without fades, 0.001 dB with long ones as here (an independent script).
    const auto sweep = sweepOf(48000.0, 5.0);
    const auto samples = synthesise(sweep);
    for (const double hz : { 40.0, 100.0, 250.0, 500.0, 1000.0, 2500.0, 5000.0, 10000.0, 15000.0 })
    {
        CAPTURE(hz);
        const auto found = spectrumAt(samples, hz, 48000.0);
        const double level = 0.5 * std::sqrt(sweep.rateSeconds / hz);
        const double turns = hz * sweep.rateSeconds * (1.0 - std::log(hz / sweep.startHz)) - 0.125;
        const double phase = std::arg(found * std::polar(1.0, -2.0 * pi * std::fmod(turns, 1.0)));
        const bool middle = hz >= 100.0 && hz <= 10000.0;
        CHECK(std::abs(decibels(std::abs(found) / level)) < (middle ? 0.01 : 0.05));
        CHECK(std::abs(phase) * 180.0 / pi < (middle ? 0.1 : 0.5));
    }
}

TEST_CASE("The spectrum falls by 3.01 dB an octave")
{
    // Farina (2000): power -3.0103 dB an octave; 1 kHz against 4 kHz 6.0206 dB.
    const auto samples = synthesise(sweepOf(48000.0, 3.0));
    auto level = [&](double hz) { return decibels(std::abs(spectrumAt(samples, hz, 48000.0))); };
    CHECK(level(1000.0) - level(4000.0) == Approx(6.0206).margin(0.02));
    for (double hz = 80.0; hz < 8000.0; hz *= 2.0)
        CHECK(level(hz) - level(2.0 * hz) == Approx(3.0103).margin(0.02));
}

TEST_CASE("The band itself has full level at both ends: the fades lie outside")
{
    for (const auto& [rate, seconds, band] : designs)
    {
        CAPTURE(rate, seconds, band.fromHz, band.toHz);
        const auto sweep = sweepOf(rate, seconds, band);
        const auto samples = synthesise(sweep);
        // In exact arithmetic these are the times of the band's ends in the paper's formula.
        const double first = sweep.rateSeconds * std::log(band.fromHz / sweep.startHz) * rate;
        const double last = sweep.rateSeconds * std::log(band.toHz / sweep.startHz) * rate;
        CHECK(static_cast<double>(sweep.fadeInSamples) <= first);
        CHECK(static_cast<double>(sweep.samples - sweep.fadeOutSamples) >= last);
        CHECK(sweep.fadeInSamples > 0);
        CHECK(sweep.fadeOutSamples > 0);
        double worst = 0.0;
        for (auto i = static_cast<std::size_t>(std::ceil(first)); i <= static_cast<std::size_t>(last); ++i)
        {
            const double turns = std::round(sweep.startHz * sweep.rateSeconds) *
                                 std::exp(static_cast<double>(i) / rate / sweep.rateSeconds);
            worst = std::max(worst, std::abs(samples[i] - std::sin(2.0 * pi * std::fmod(turns, 1.0))));
        }
        CHECK(worst < 1e-8);
        CHECK(std::abs(samples.back()) < 0.01);
    }
}

TEST_CASE("A sweep stays between its ends: above no zero and under half the rate, never over 1")
{
    for (const auto& [rate, seconds, band] : designs)
    {
        CAPTURE(rate, seconds, band.fromHz, band.toHz);
        const auto sweep = sweepOf(rate, seconds, band);
        CHECK(sweep.startHz > 0.0);
        CHECK(sweep.startHz < band.fromHz);
        CHECK(sweep.endHz > band.toHz);
        CHECK(sweep.endHz < 0.5 * rate);
        CHECK(sweep.sampleRateHz == rate);
        double largest = 0.0;
        for (const double x : synthesise(sweep))
            largest = std::max(largest, std::abs(x));
        CHECK(largest <= 1.0);
        CHECK(largest > 0.99);
    }
}

TEST_CASE("At 44.1 kHz 20 kHz just fits, and a little more does not")
{
    CHECK(designSweep(44100.0, 3.0, { 20.0, 20000.0 }).ok());
    CHECK(designSweep(44100.0, 3.0, { 20.0, 0.455 * 44100.0 }).ok());
    const auto refused = designSweep(44100.0, 3.0, { 20.0, 20100.0 });
    REQUIRE_FALSE(refused.ok());
    const auto words = refused.problem().sentence();
    CHECK_THAT(words, Catch::Contains("20100 Hz"));
    CHECK_THAT(words, Catch::Contains("44100 Hz"));
    CHECK_THAT(words, Catch::Contains("20066 Hz")); // 0.455 x 44100, rounded
}

TEST_CASE("What cannot be swept is refused in a sentence that names what is wrong")
{
    constexpr double none = std::numeric_limits<double>::quiet_NaN(),
                     endless = std::numeric_limits<double>::infinity();

    struct Case
    {
        double rate, seconds;
        Band band;
        const char* names;
    };

    for (const auto& [rate, seconds, band, names] :
         { Case{ 7999.0, 3.0, { 20.0, 3000.0 }, "sample rate" }, Case{ 400001.0, 3.0, {}, "sample rate" },
           Case{ none, 3.0, {}, "sample rate" }, Case{ 48000.0, 0.99, {}, "1 to 30 seconds" },
           Case{ 48000.0, 30.01, {}, "1 to 30 seconds" }, Case{ 48000.0, none, {}, "1 to 30 seconds" },
           Case{ 48000.0, 3.0, { 4.99, 20000.0 }, "5 Hz" }, Case{ 48000.0, 3.0, { 0.0, 20000.0 }, "5 Hz" },
           Case{ 48000.0, 3.0, { -20.0, 20000.0 }, "5 Hz" },
           Case{ 48000.0, 3.0, { 1000.0, 1999.0 }, "octave" },
           Case{ 48000.0, 3.0, { 2000.0, 1000.0 }, "octave" },
           Case{ 48000.0, 3.0, { none, 20000.0 }, "5 Hz" }, Case{ 48000.0, 3.0, { 20.0, none }, "octave" },
           Case{ 48000.0, 3.0, { 20.0, 21900.0 }, "21900 Hz" },
           Case{ 48000.0, 3.0, { 20.0, endless }, "the band ends at" } })
    {
        CAPTURE(rate, seconds, band.fromHz, band.toHz, names);
        const auto refused = designSweep(rate, seconds, band);
        REQUIRE_FALSE(refused.ok());
        CHECK(refused.problem().code == "sweep-impossible");
        CHECK_THAT(refused.problem().sentence(), Catch::Contains(names));
        CHECK_THAT(refused.problem().sentence(), Catch::EndsWith("."));
    }
}
