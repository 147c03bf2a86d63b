// What could pass here for the wrong reason: whole-sample delays alone, which any largest sample finds; a
// polarity that is always +1; and two-way monitors whose delay was put in by the same transform that reads
// it. Delays here come from the sweep's own formula between the samples, and monitors from the closed forms
// of their filters over frequency.

#include "Measure/Arrival.h"
#include "Measure/Deconvolution.h"
#include "Support/Captures.h"

#include <catch2/catch.hpp>

using namespace plumbline;
using namespace plumbline::test;

namespace
{
/** The response to a sweep that comes back `delaySamples` late, from the sweep's formula. */
ImpulseResponse delayedResponse(const Stimulus& stimulus, double delaySamples, double gain)
{
    const double peak = gain * std::pow(10.0, stimulus.spec.levelDbfs / 20.0);
    const PlayedSpectrum played(playedSweep(stimulus), fastTransformLength(stimulus.segmentSamples()));
    const auto range = excitedRange(stimulus.sweep, stimulus.spec.band);
    const auto late = rounded(delayedSweep(stimulus.sweep, delaySamples, peak));
    return { deconvolve(late, played, stimulus.spec.sampleRateHz, range), stimulus.spec.sampleRateHz };
}

/** Woofer and tweeter joined at a Linkwitz-Riley crossover of order 4 (Linkwitz, JAES 24 (1976) 2), under an
    upper roll-off of order 2 (Butterworth): with s = j f / fc the two add up to (s^2 - sqrt2 s + 1) / (s^2 +
    sqrt2 s + 1). */
struct TwoWay
{
    double crossoverHz, rollOffHz;
    int polarity = 1;

    std::complex<double> at(double hz) const
    {
        const auto over = [&](double corner) { return std::complex(0.0, hz / corner); };
        const auto s = over(crossoverHz), u = over(rollOffHz);
        const double root = std::numbers::sqrt2;
        return static_cast<double>(polarity) * (s * s - root * s + 1.0) / (s * s + root * s + 1.0) /
               (u * u + root * u + 1.0);
    }
};

/** Its response as a division leaves it: over the excited range of a 20 Hz to 20 kHz sweep. */
template <class System>
ImpulseResponse responseTo(const System& system, double delaySamples, double rate = 48000.0)
{
    const auto stimulus = shortStimulus(rate);
    const auto range = excitedRange(stimulus.sweep, stimulus.spec.band);
    SpectrumBuffer buffer(131072);
    const double binHz = rate / 131072.0;
    for (std::size_t k = 0; k < buffer.binCount(); ++k)
    {
        const double hz = static_cast<double>(k) * binHz;
        const double part = std::clamp((hz - range.taperHz) / (range.highHz - range.taperHz), 0.0, 1.0);
        const double weight = hz < range.lowHz ? 0.0 : 0.5 + 0.5 * std::cos(std::numbers::pi * part);
        buffer.bins()[k] =
            weight * system(hz) * std::polar(1.0, -2.0 * std::numbers::pi * hz * delaySamples / rate);
    }
    return { std::move(buffer), rate };
}

ImpulseResponse responseOf(const TwoWay& monitor, double delaySamples, double rate = 48000.0)
{
    return responseTo([&](double hz) { return monitor.at(hz); }, delaySamples, rate);
}

Arrival arrivalIn(const ImpulseResponse& response)
{
    return firstArrival(response, -240, 48000, {});
}
}

TEST_CASE("A delay between the samples is found within a thousandth of a sample")
{
    const auto stimulus = shortStimulus();
    for (const double delay : { 0.0, 1.5, 100.25, 137.0, 333.3333, 1000.499, 20000.875 })
    {
        CAPTURE(delay);
        const auto arrival = arrivalIn(delayedResponse(stimulus, delay, 0.25));
        CHECK(arrival.samples == Approx(delay).margin(0.001));
        CHECK(arrival.polarity == 1);
    }
}

TEST_CASE("A delay is found at every rate and for a narrower band")
{
    for (const double rate : { 44100.0, 96000.0, 192000.0 })
    {
        CAPTURE(rate);
        CHECK(arrivalIn(delayedResponse(shortStimulus(rate), 222.37, 0.5)).samples ==
              Approx(222.37).margin(0.001));
    }
    StimulusSpec spec;
    spec.seconds = 1.0;
    spec.band = { 100.0, 8000.0 };
    const auto response = delayedResponse(designStimulus(spec).value(), 222.37, 0.5);
    CHECK(firstArrival(response, -240, 48000, spec.band).samples == Approx(222.37).margin(0.001));
}

TEST_CASE("An inverted sound arrives at the same time, with polarity -1")
{
    const auto stimulus = shortStimulus();
    const auto inverted = arrivalIn(delayedResponse(stimulus, 412.61, -0.25));
    CHECK(inverted.samples == Approx(412.61).margin(0.001));
    CHECK(inverted.polarity == -1);
}

TEST_CASE("A sound that comes before the reference has a negative time")
{
    const auto response = responseTo([](double) { return 1.0; }, -100.25);
    CHECK(arrivalIn(response).samples == Approx(-100.25).margin(0.001));
}

TEST_CASE("A two-way monitor arrives when its sound does, within half a sample, whichever its crossover")
{
    for (const double crossover : { 1300.0, 1600.0, 2000.0, 2300.0, 2800.0, 3500.0 })
        for (const double rollOff : { 20000.0, 22000.0, 25000.0 })
            for (const int polarity : { 1, -1 })
                for (const double delay : { 150.0, 150.4 })
                {
                    CAPTURE(crossover, rollOff, polarity, delay);
                    const auto arrival = arrivalIn(responseOf(TwoWay{ crossover, rollOff, polarity }, delay));
                    CHECK(std::abs(arrival.samples - delay) < 0.5);
                    CHECK(arrival.polarity == polarity);
                }
}

TEST_CASE(
    "The largest sample of a two-way is no measure: it is more than half a sample off, or of the wrong sign")
{
    // Control: what a plain peak search would have said of the same monitors.
    int wrong = 0;
    for (const double crossover : { 1300.0, 2000.0, 2800.0, 3500.0 })
    {
        const auto response = responseOf(TwoWay{ crossover, 20000.0, 1 }, 150.0);
        std::ptrdiff_t largest = 0;
        for (std::ptrdiff_t i = 0; i < 2000; ++i)
            if (std::abs(response.at(i)) > std::abs(response.at(largest)))
                largest = i;
        wrong += std::abs(static_cast<double>(largest) - 150.0) > 0.5 || response.at(largest) < 0.0 ? 1 : 0;
    }
    CHECK(wrong > 0);
}

TEST_CASE("Differences between like monitors are true within a thousandth of a sample")
{
    for (const double crossover : { 1300.0, 1800.0, 2500.0, 3500.0 })
    {
        const TwoWay monitor{ crossover, 21000.0, 1 };
        const double reference = arrivalIn(responseOf(monitor, 200.0)).samples;
        for (const double further : { 0.01, 0.25, 0.5, 1.75, 33.333, 700.9 })
        {
            CAPTURE(crossover, further);
            CHECK(arrivalIn(responseOf(monitor, 200.0 + further)).samples - reference ==
                  Approx(further).margin(0.001));
        }
    }
}

TEST_CASE("A two-way monitor arrives when its sound does at 44.1 kHz as well, wherever between the samples")
{
    for (const double crossover : { 1300.0, 2000.0, 3000.0, 3500.0 })
        for (const double rollOff : { 20000.0, 25000.0 })
            for (double delay = 150.0; delay < 151.0; delay += 0.125)
            {
                CAPTURE(crossover, rollOff, delay);
                const auto arrival = arrivalIn(responseOf(TwoWay{ crossover, rollOff, 1 }, delay, 44100.0));
                CHECK(std::abs(arrival.samples - delay) < 0.5);
                CHECK(arrival.polarity == 1);
            }
}

TEST_CASE("Which peak of a monitor is taken does not hang on where it stands between the samples")
{
    // A crossover of 3.5 to 4 kHz makes the second peak the larger: 1 to 0.72 at 4 kHz. Like monitors must
    // still be told alike.
    for (const double rate : { 44100.0, 48000.0, 96000.0 })
        for (const double crossover : { 3500.0, 3700.0, 4000.0 })
        {
            const TwoWay monitor{ crossover, 18000.0, 1 };
            const auto reference = arrivalIn(responseOf(monitor, 200.0, rate));
            for (double further = 0.05; further < 1.0; further += 0.05)
            {
                CAPTURE(rate, crossover, further);
                const auto arrival = arrivalIn(responseOf(monitor, 200.0 + further, rate));
                CHECK(arrival.samples - reference.samples == Approx(further).margin(0.001));
                CHECK(arrival.polarity == reference.polarity);
            }
        }
}

TEST_CASE("A reflection stronger than the direct sound is not taken for it")
{
    // 50 ms later and twice as strong, of either sign.
    for (const double strength : { 2.0, -2.0, 5.0 })
    {
        auto echoed = [=](double hz)
        { return 1.0 + strength * std::polar(1.0, -2.0 * std::numbers::pi * hz * 0.050); };
        CAPTURE(strength);
        const auto arrival = arrivalIn(responseTo(echoed, 300.5));
        CHECK(arrival.samples == Approx(300.5).margin(0.01));
        CHECK(arrival.polarity == 1);
    }
}

TEST_CASE("The onset lies 20 dB under the largest value: a fainter forerunner is not the sound")
{
    // The rule of ISO 3382-1 as the header tells it: 18 dB under the largest counts, 24 dB under it does not.
    auto with = [](double forerunner)
    { return [=](double hz) { return forerunner + std::polar(1.0, -2.0 * std::numbers::pi * hz * 0.020); }; };
    CHECK(arrivalIn(responseTo(with(0.126), 300.0)).samples == Approx(300.0).margin(0.05));
    CHECK(arrivalIn(responseTo(with(0.063), 300.0)).samples == Approx(300.0 + 960.0).margin(0.05));
}

TEST_CASE("Only the range asked for is searched")
{
    auto twice = [](double hz) { return 1.0 + 0.8 * std::polar(1.0, -2.0 * std::numbers::pi * hz * 0.100); };
    const auto response = responseTo(twice, 300.0);
    CHECK(firstArrival(response, -240, 48000, {}).samples == Approx(300.0).margin(0.01));
    CHECK(firstArrival(response, 2000, 48000, {}).samples == Approx(5100.0).margin(0.01));
}
