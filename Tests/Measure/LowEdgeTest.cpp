// What could pass here for the wrong reason: a gate so long, or a measure so loose, that nothing is lost
// without the continuation; so each case first shows what is lost, and only then that it comes back. Levels
// at 20 Hz are summed term by term from the gated samples.

#include "Measure/LowEdge.h"
#include "Core/Units.h"
#include "Measure/Gate.h"
#include "Measure/ImpulseResponse.h"
#include "Measure/Sweep.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <numbers>

using namespace plumbline;

namespace
{
constexpr double rate = 48000.0, arrival = 500.0;
constexpr std::size_t length = 131072;

/** A room's worth of bins for a system known over frequency, down to a lowest frequency. */
template <class System>
SpectrumBuffer transferOf(const System& system, double lowestHz)
{
    SpectrumBuffer buffer(length);
    for (std::size_t k = 0; k < buffer.binCount(); ++k)
    {
        const double hz = static_cast<double>(k) * rate / length;
        const double part = std::clamp((hz - 21000.0) / 800.0, 0.0, 1.0);
        const double weight = hz < lowestHz ? 0.0 : 0.5 + 0.5 * std::cos(std::numbers::pi * part);
        buffer.bins()[k] =
            weight * system(hz) * std::polar(1.0, -2.0 * std::numbers::pi * hz * arrival / rate);
    }
    return buffer;
}

ExcitedRange usualRange()
{
    return excitedRange(designSweep(rate, 3.0, {}).value(), {});
}

double levelAt(const std::vector<double>& samples, double hz)
{
    std::complex<double> sum = 0.0;
    for (std::size_t i = 0; i < samples.size(); ++i)
        sum += samples[i] * std::polar(1.0, -2.0 * std::numbers::pi * hz * static_cast<double>(i) / rate);
    return decibelsFromAmplitude(std::abs(sum));
}

/** The gated stretch of a response, with or without what lies under the sweep. */
std::vector<double> gated(SpectrumBuffer transfer, double milliseconds, bool continued)
{
    if (continued)
        continueBelow(transfer, usualRange(), rate);
    const ImpulseResponse response(std::move(transfer), rate);
    const auto gate = fixedGate({ arrival, 4800, 60000 }, milliseconds, rate);
    std::vector<double> samples(gate.length());
    response.copy(gate.firstSample, samples);
    gate.apply(samples);
    return samples;
}

std::complex<double> wire(double)
{
    return 1.0;
}

/** Butterworth, order 4: poles on the unit circle at 112.5 and 157.5 degrees and their mirrors. */
std::complex<double> closedBox(double hz)
{
    const std::complex s(0.0, hz / 45.0);
    auto pair = [&](double degrees)
    { return s * s - 2.0 * std::cos(degrees * std::numbers::pi / 180.0) * s + 1.0; };
    return s * s * s * s / (pair(112.5) * pair(157.5));
}
}

TEST_CASE("The high-pass of these cases is a Butterworth of order 4")
{
    // -3.0103 dB at the corner; 1 / (1 + (fc / f)^8).
    CHECK(decibelsFromAmplitude(std::abs(closedBox(45.0))) == Approx(-3.0103).margin(1e-4));
    CHECK(std::norm(closedBox(20.0)) == Approx(1.0 / (1.0 + std::pow(2.25, 8.0))).epsilon(1e-9));
}

TEST_CASE("A wire gated at 200 ms keeps its level at 20 Hz within 0.02 dB")
{
    const double low = usualRange().lowHz;
    REQUIRE(low < 20.0);
    CHECK(std::abs(levelAt(gated(transferOf(wire, low), 200.0, true), 20.0)) < 0.02);
    CHECK(std::abs(levelAt(gated(transferOf(wire, low), 200.0, false), 20.0)) > 0.1); // control
}

TEST_CASE("A wire keeps its level just above the edge at other gates too")
{
    const double low = usualRange().lowHz;
    for (const double milliseconds : { 100.0, 150.0, 300.0, 500.0 })
        for (const double hz : { 20.0, 22.0, 25.0, 31.5, 50.0 })
        {
            CAPTURE(milliseconds, hz);
            const double with = std::abs(levelAt(gated(transferOf(wire, low), milliseconds, true), hz));
            CHECK(with < 0.02);
        }
}

TEST_CASE("A 45 Hz high-pass gated at 200 ms reads at 20 Hz as it would had everything been swept")
{
    // Truth: the same system excited down to 0 Hz, gated alike.
    const double low = usualRange().lowHz;
    for (const double hz : { 20.0, 25.0, 31.5, 45.0 })
    {
        const double truth = levelAt(gated(transferOf(closedBox, 0.0), 200.0, false), hz);
        const double with = levelAt(gated(transferOf(closedBox, low), 200.0, true), hz);
        const double without = levelAt(gated(transferOf(closedBox, low), 200.0, false), hz);
        CAPTURE(hz, truth, with, without);
        CHECK(std::abs(with - truth) < 0.02);
        if (hz == 20.0)
            CHECK(std::abs(without - truth) > 0.1); // control
    }
}

TEST_CASE("The continuation follows a system's level, sign and delay")
{
    const double low = usualRange().lowHz;
    auto inverted = [](double) { return std::complex(-0.1, 0.0); };
    CHECK(levelAt(gated(transferOf(inverted, low), 200.0, true), 20.0) == Approx(-20.0).margin(0.02));
}

TEST_CASE("High up the continuation changes nothing")
{
    const double low = usualRange().lowHz;
    const auto with = gated(transferOf(wire, low), 200.0, true),
               without = gated(transferOf(wire, low), 200.0, false);
    for (const double hz : { 500.0, 1000.0, 10000.0 })
        CHECK(levelAt(with, hz) == Approx(levelAt(without, hz)).margin(0.001));
}

TEST_CASE("Together the response and its continuation are those of a system known down to 0 Hz")
{
    // A wire known from 0 Hz has no ringing at all before and after its peak but that of the upper end.
    const double low = usualRange().lowHz;
    auto ringing = [](SpectrumBuffer transfer, bool continued)
    {
        if (continued)
            continueBelow(transfer, usualRange(), rate);
        const ImpulseResponse response(std::move(transfer), rate);
        std::vector<double> samples(2000);
        response.copy(1000, samples);
        double most = 0.0;
        for (const double x : samples)
            most = std::max(most, std::abs(x));
        return most;
    };
    const double none = ringing(transferOf(wire, 0.0), false);
    CHECK(ringing(transferOf(wire, low), true) < none + 1e-6);
    CHECK(ringing(transferOf(wire, low), false) > none + 1e-4); // control
}
