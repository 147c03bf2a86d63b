// What could pass here for the wrong reason: a division that is right because the delay is short and the
// response wraps round unseen; so an echo just inside the silence, and one that lies beyond it, are asked
// too. Levels are compared with the taps' own closed form, never with another transform.

#include "Measure/Deconvolution.h"
#include "Dsp/Fft.h"
#include "Measure/ImpulseResponse.h"
#include "Support/Captures.h"

#include <algorithm>
#include <catch2/catch.hpp>

using namespace plumbline;
using namespace plumbline::test;

namespace
{
/** A segment, sweep and silence, through taps. */
std::vector<float> segmentThrough(const Stimulus& stimulus, const Taps& taps)
{
    std::vector<double> samples(stimulus.segmentSamples());
    addThrough(samples, playedSweep(stimulus), 0, taps);
    return rounded(samples);
}

struct Divided
{
    Stimulus stimulus;
    ExcitedRange range;
    SpectrumBuffer transfer;

    double rate() const { return stimulus.spec.sampleRateHz; }

    double binHz() const { return rate() / static_cast<double>(transfer.length()); }

    std::size_t binAt(double hz) const { return static_cast<std::size_t>(std::lround(hz / binHz())); }

    double frequencyOf(std::size_t bin) const { return static_cast<double>(bin) * binHz(); }
};

Divided divide(const Stimulus& stimulus, const std::vector<float>& captured, double offset = 0.0)
{
    const auto range = excitedRange(stimulus.sweep, stimulus.spec.band);
    const PlayedSpectrum played(playedSweep(stimulus), fastTransformLength(stimulus.segmentSamples()));
    return { stimulus, range, deconvolve(captured, played, stimulus.spec.sampleRateHz, range, offset) };
}

std::ptrdiff_t largestPlace(const ImpulseResponse& response)
{
    std::ptrdiff_t best = 0;
    for (std::ptrdiff_t i = 0; i < static_cast<std::ptrdiff_t>(response.length()); ++i)
        if (std::abs(response.at(i)) > std::abs(response.at(best)))
            best = i;
    return best;
}
}

TEST_CASE("A quarter of the sweep, 137 samples late, is -12.0412 dB and stands at sample 137")
{
    // 20 lg 0.25 = -12.0412 dB.
    const auto stimulus = shortStimulus();
    auto divided = divide(stimulus, segmentThrough(stimulus, { { 137, 0.25 } }));
    const auto bin = divided.binAt(1000.0);
    CHECK(decibelsFromAmplitude(std::abs(divided.transfer.bins()[bin])) == Approx(-12.0412).margin(1e-4));
    const double phase = degreesFromRadians(std::arg(divided.transfer.bins()[bin]));
    CHECK(std::abs(turnedDeg(phase, -360.0 * divided.frequencyOf(bin) * 137.0 / 48000.0)) < 1e-3);
    CHECK(largestPlace(ImpulseResponse(std::move(divided.transfer), 48000.0)) == 137);
}

TEST_CASE("A wire's response is a peak of twice the excited bandwidth over the rate")
{
    // 2 (f2 - f1) / fs for a sharp band; the half-cosine at its upper end counts by its middle.
    for (const double rate : { 44100.0, 48000.0, 96000.0 })
    {
        const auto stimulus = shortStimulus(rate);
        auto divided = divide(stimulus, segmentThrough(stimulus, { { 0, 1.0 } }));
        const auto range = divided.range;
        const double width = 0.5 * (range.taperHz + range.highHz) - range.lowHz;
        const ImpulseResponse response(std::move(divided.transfer), rate);
        CAPTURE(rate);
        CHECK(largestPlace(response) == 0);
        CHECK(response.at(0) == Approx(2.0 * width / rate).margin(1e-4));
    }
}

TEST_CASE("The excited range holds the band and lies within the sweep")
{
    for (const double rate : { 44100.0, 48000.0, 192000.0 })
    {
        const auto stimulus = shortStimulus(rate);
        const auto range = excitedRange(stimulus.sweep, stimulus.spec.band);
        CAPTURE(rate);
        CHECK(range.lowHz > stimulus.sweep.startHz);
        CHECK(range.lowHz < 20.0);
        CHECK(range.taperHz > 20000.0);
        CHECK(range.highHz > range.taperHz);
        CHECK(range.highHz <= stimulus.sweep.endHz);
    }
}

TEST_CASE("Outside the excited range the response is exactly zero, inside it nowhere")
{
    const auto stimulus = shortStimulus();
    const auto divided = divide(stimulus, segmentThrough(stimulus, { { 10, 0.5 } }));
    std::size_t wrong = 0;
    for (std::size_t k = 0; k < divided.transfer.binCount(); ++k)
    {
        const double hz = divided.frequencyOf(k), size = std::abs(divided.transfer.bins()[k]);
        if (hz < divided.range.lowHz || hz > divided.range.highHz)
            wrong += size != 0.0 ? 1u : 0u;
        else if (hz > divided.range.lowHz + divided.binHz() && hz < divided.range.taperHz - divided.binHz())
            wrong += std::abs(size - 0.5) > 1e-5 ? 1u : 0u;
    }
    CHECK(wrong == 0);
    // The taper: half its level in its middle.
    const auto middle = divided.binAt(0.5 * (divided.range.taperHz + divided.range.highHz));
    CHECK(std::abs(divided.transfer.bins()[middle]) == Approx(0.25).epsilon(0.01));
}

TEST_CASE(
    "Each bin is the response at exactly its frequency: no leakage from an echo at the end of the silence")
{
    const auto stimulus = shortStimulus();
    const Taps taps{ { 300, 0.6 }, { 1999, -0.3 }, { 47900, 0.25 } }; // the last 0.998 s late, silence 1 s
    const auto divided = divide(stimulus, segmentThrough(stimulus, taps));
    double worst = 0.0;
    for (auto k = divided.binAt(20.0); k <= divided.binAt(20000.0); ++k)
        worst = std::max(
            worst, std::abs(divided.transfer.bins()[k] - responseOf(taps, divided.frequencyOf(k), 48000.0)));
    CHECK(worst < 2e-6);
}

TEST_CASE(
    "The division is a linear one: an echo beyond the silence is cut and not wrapped round to the front")
{
    const auto stimulus = shortStimulus();
    // Its first sample lies in the segment's last second: only the beginning of the sweep comes back.
    const Taps late{ { 300, 1.0 }, { stimulus.segmentSamples() - 12000, 1.0 } };
    auto divided = divide(stimulus, segmentThrough(stimulus, late));
    const ImpulseResponse response(std::move(divided.transfer), 48000.0);
    // Wrapped, the echo would stand whole at (segment - 12000) modulo the length; cut, its treble is missing
    // there.
    CHECK(std::abs(response.at(static_cast<std::ptrdiff_t>(stimulus.segmentSamples()) - 12000)) < 0.05);
    CHECK(response.at(300) > 0.8);
    // Control: the same echo inside the silence does stand whole.
    auto inside = divide(stimulus, segmentThrough(stimulus, { { 300, 1.0 }, { 40000, 1.0 } }));
    CHECK(ImpulseResponse(std::move(inside.transfer), 48000.0).at(40000) > 0.8);
}

TEST_CASE("Negative times are the last samples of the response")
{
    const auto stimulus = shortStimulus();
    const auto played = playedSweep(stimulus);
    // The reference 200 samples later than the capture.
    std::vector<double> late(stimulus.segmentSamples());
    addThrough(late, played, 0, { { 200, 1.0 } });
    const auto length = fastTransformLength(stimulus.segmentSamples());
    const auto range = excitedRange(stimulus.sweep, stimulus.spec.band);
    const PlayedSpectrum reference(rounded(late), length);
    const ImpulseResponse response(deconvolve(played, reference, 48000.0, range), 48000.0);
    CHECK(response.at(-200) > 0.8);
    CHECK(response.at(static_cast<std::ptrdiff_t>(response.length()) - 200) == response.at(-200));
    std::vector<double> copied(3);
    response.copy(-201, copied);
    CHECK(copied == std::vector<double>{ response.at(-201), response.at(-200), response.at(-199) });
}

TEST_CASE("Where hardly anything was played the division is bounded by 1e-10 of the peak power")
{
    // Played: 1 and a, one sample apart: |X|^2 runs from (1 + a)^2 at 0 Hz to (1 - a)^2 at half the rate.
    constexpr std::size_t length = 4096;
    const float a = 1.0f - 2e-5f;
    const std::vector<float> two{ 1.0f, a }, one{ 1.0f };
    const PlayedSpectrum played(two, length);
    const double gap = 1.0 - static_cast<double>(a), peak = std::pow(1.0 + static_cast<double>(a), 2.0);
    CHECK(played.peakPower() == Approx(peak).epsilon(1e-12));
    CHECK(played.power(24000.0, 48000.0) == Approx(gap * gap).epsilon(1e-6));
    const auto response = deconvolve(one, played, 48000.0, { 10.0, 30000.0, 30000.0 });
    const auto last = length / 2;
    // H = Y X* / (|X|^2 + b) with Y = 1; without b it would be 1 / gap = 50 000.
    CHECK(std::abs(response.bins()[last]) == Approx(gap / (gap * gap + 1e-10 * peak)).epsilon(1e-4));
    // Elsewhere b changes nothing that matters.
    const auto x = 1.0 + static_cast<double>(a) * std::polar(1.0, -std::numbers::pi / 2.0);
    CHECK(std::abs(response.bins()[last / 2] - 1.0 / x) < 1e-9);
}

TEST_CASE("A frequency that was not played at all gives zero and not infinity")
{
    const std::vector<float> comb{ 1.0f, 0.0f, 1.0f }, one{ 1.0f };
    const PlayedSpectrum played(comb, 1024);
    const auto response = deconvolve(one, played, 48000.0, { 10.0, 23000.0, 23500.0 });
    for (std::size_t k = 0; k < response.binCount(); ++k)
        REQUIRE(std::isfinite(std::abs(response.bins()[k])));
    CHECK(std::abs(response.bins()[256]) < 1e-3); // 12 kHz, the null: |X| / b, and |X| is rounding alone
    CHECK(std::abs(response.bins()[128]) == Approx(1.0 / std::sqrt(2.0)).epsilon(1e-6));
}

TEST_CASE("A direct voltage is taken off what was captured, and off what was played")
{
    const auto stimulus = shortStimulus();
    const Taps taps{ { 50, 0.5 } };
    auto shifted = segmentThrough(stimulus, taps);
    for (float& x : shifted)
        x += 0.125f; // exact in 32 bits: only the sample's own rounding changes
    const auto kept = divide(stimulus, shifted), taken = divide(stimulus, shifted, 0.125);
    auto worst = [&](const Divided& d)
    {
        double most = 0.0;
        for (auto k = d.binAt(16.0); k <= d.binAt(20000.0); ++k)
            most =
                std::max(most, std::abs(d.transfer.bins()[k] - responseOf(taps, d.frequencyOf(k), 48000.0)));
        return most;
    };
    CHECK(worst(taken) < 2e-5);
    CHECK(worst(kept) > 1e-3); // control: the offset does matter
    auto played = playedSweep(stimulus);
    for (float& x : played)
        x += 0.125f;
    const PlayedSpectrum reference(played, taken.transfer.length(), 0.125);
    const PlayedSpectrum plain(playedSweep(stimulus), taken.transfer.length());
    CHECK(reference.power(1000.0, 48000.0) == Approx(plain.power(1000.0, 48000.0)).epsilon(1e-5));
}

TEST_CASE("The played power is that of the paper's closed form, and of the bin nearest")
{
    // (rate / 2)^2 L / f x peak^2, Novak, Lotton, Simon (2015).
    const auto stimulus = shortStimulus(48000.0, 2.0, -12.0);
    const PlayedSpectrum played(playedSweep(stimulus), fastTransformLength(stimulus.segmentSamples()));
    const double peak = std::pow(10.0, -12.0 / 20.0);
    for (const double hz : { 100.0, 1000.0, 10000.0 })
        CHECK(played.power(hz, 48000.0) ==
              Approx(std::pow(24000.0 * peak, 2.0) * stimulus.sweep.rateSeconds / hz).epsilon(0.01));
    CHECK(played.power(-5.0, 48000.0) == std::norm(played.bins()[0]));
    CHECK(played.power(1e6, 48000.0) == std::norm(played.bins()[played.length() / 2]));
}
