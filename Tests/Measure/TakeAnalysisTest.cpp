// What could pass here for the wrong reason: an analysis that is right for a wire, or that agrees with
// itself. Systems are lists of taps, convolved by definition and known in closed form at every frequency; the
// two sides always differ; what a gate or a loopback must take away is shown to be there without it.

#include "Measure/TakeAnalysis.h"

#include "Measure/Deconvolution.h"
#include "Support/Captures.h"
#include "Support/TakeAnalyses.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

using namespace plumbline;
using namespace plumbline::test;

namespace
{

struct Worst
{
    double levelDb = 0.0, phaseDeg = 0.0;
    std::size_t unknown = 0, count = 0;
};

/** Largest differences of a side from its taps, heard through a loopback `delay` late. */
Worst against(const Taps& taps, const SideAnalysis& side, double rate, double delay = 64.0)
{
    Worst worst;
    const auto& curve = side.response;
    for (std::size_t i = 0; i < curve.frequencyHz.size(); ++i)
    {
        const double hz = curve.frequencyHz[i];
        const auto exact =
            responseOf(taps, hz, rate) * std::polar(1.0, 2.0 * std::numbers::pi * hz * delay / rate);
        worst.levelDb =
            std::max(worst.levelDb, std::abs(curve.levelDb[i] - decibelsFromAmplitude(std::abs(exact))));
        const double phase =
            degreesFromRadians(std::arg(exact)) + 360.0 * hz * side.travelTimeSeconds.value();
        worst.phaseDeg = std::max(worst.phaseDeg, std::abs(turnedDeg(curve.phaseDeg[i], phase)));
        worst.unknown += curve.known[i] ? 0u : 1u;
        ++worst.count;
    }
    return worst;
}

}

TEST_CASE("Without noise level and phase are those of the system, at every usual rate")
{
    for (const double rate : { 44100.0, 48000.0, 96000.0, 192000.0 })
    {
        const auto analysis =
            analysed(captureThrough(shortStimulus(rate, 2.0), leftTaps, rightTaps), plain());
        REQUIRE(analysis.right.has_value());
        CAPTURE(rate);
        for (const auto& worst :
             { against(leftTaps, analysis.left, rate), against(rightTaps, *analysis.right, rate) })
        {
            CHECK(worst.levelDb < 1e-4);
            CHECK(worst.phaseDeg < 1e-3);
            CHECK(worst.unknown == 0);
            CHECK(worst.count > 470); // 48 an octave over ten octaves
        }
        CHECK(codesOf(analysis).empty());
        CHECK_FALSE(analysis.doubtful());
        CHECK(analysis.timeBaseKnown);
        CHECK(analysis.sampleRateHz == rate);
        CHECK(analysis.left.response.noiseDb.empty() == analysis.left.response.sdDb.empty());
    }
}

TEST_CASE("The shortest sweep and silence are as true as was promised, down to 20 Hz")
{
    // 0.001 dB and 0.01 degrees without noise, whatever the sweep; bins lie half a hertz apart here.
    for (const double rate : { 44100.0, 48000.0, 96000.0 })
    {
        const auto analysis =
            analysed(captureThrough(shortStimulus(rate, 1.0), leftTaps, rightTaps), plain());
        CAPTURE(rate);
        for (const auto& worst :
             { against(leftTaps, analysis.left, rate), against(rightTaps, *analysis.right, rate) })
        {
            CHECK(worst.levelDb < 1e-3);
            CHECK(worst.phaseDeg < 1e-2);
        }
    }
}

TEST_CASE("The phase is one line, without jumps of whole turns")
{
    const auto curve = analysed(captureThrough(shortStimulus(), leftTaps, rightTaps), plain()).left.response;
    // Neighbours lie a 48th of an octave apart; the latest echo, 42 ms, is 28 dB down and so turns the phase
    // by a few degrees.
    for (std::size_t i = 1; i < curve.phaseDeg.size(); ++i)
        REQUIRE(std::abs(curve.phaseDeg[i] - curve.phaseDeg[i - 1]) < 90.0);
    CHECK(std::abs(curve.phaseDeg.front()) <= 180.0);
}

TEST_CASE("Travel times are counted from the loopback, and differ as the systems do")
{
    const Taps left{ { 300, 0.5 } }, right{ { 311, 0.5 } };
    for (const int loopback : { 0, 64, 290 })
    {
        const auto analysis = analysed(captureThrough(shortStimulus(), left, right, loopback), plain());
        CAPTURE(loopback);
        CHECK(analysis.left.travelTimeSeconds.value() * 48000.0 == Approx(300.0 - loopback).margin(0.001));
        CHECK(analysis.right->travelTimeSeconds.value() * 48000.0 == Approx(311.0 - loopback).margin(0.001));
    }
}

TEST_CASE("Travel times between the samples are true within a thousandth, gated or not")
{
    auto capture = captureThrough(shortStimulus(), {}, {});
    auto put = [&](std::size_t start, double delay)
    {
        const auto sweep = delayedSweep(capture.stimulus.sweep, delay, 0.05);
        for (std::size_t i = 0; i < sweep.size(); ++i)
            capture.microphone[start + i] += static_cast<float>(sweep[i]);
    };
    put(capture.stimulus.leftStart, 300.25);
    put(*capture.stimulus.rightStart, 312.875);
    for (const auto window : { whole, WindowChoice{}, WindowChoice{ WindowChoice::Kind::fixed, 20.0 } })
    {
        const auto analysis = analysed(capture, looking(12, window));
        CHECK(analysis.left.travelTimeSeconds.value() * 48000.0 == Approx(236.25).margin(0.001));
        CHECK((*analysis.right->travelTimeSeconds - *analysis.left.travelTimeSeconds) * 48000.0 ==
              Approx(12.625).margin(0.001));
    }
}

TEST_CASE("Without a reference the difference of the sides is true, and it says so")
{
    auto capture = captureThrough(shortStimulus(), { { 300, 0.5 } }, { { 337, 0.4 } }, -1);
    capture.stimulusStart.reset();
    const auto analysis = analysed(capture, plain());
    CHECK_FALSE(analysis.timeBaseKnown);
    CHECK(analysis.left.travelTimeSeconds == 0.0);
    CHECK(analysis.right->travelTimeSeconds.value() * 48000.0 == Approx(37.0).margin(0.001));
    CHECK(codesOf(analysis) == std::vector<std::string>{ "no-reference" });
    CHECK_FALSE(analysis.doubtful());
    // A known start is a time base.
    capture.stimulusStart = 0;
    const auto known = analysed(capture, plain());
    CHECK(known.timeBaseKnown);
    CHECK(known.left.travelTimeSeconds.value() * 48000.0 == Approx(300.0).margin(0.001));
    CHECK(codesOf(known) == std::vector<std::string>{ "no-reference" });
}

TEST_CASE("A loopback of the left alone serves both sides")
{
    auto capture = captureThrough(shortStimulus(48000.0, 2.0), leftTaps, rightTaps);
    const auto right = static_cast<std::ptrdiff_t>(*capture.stimulus.rightStart);
    std::fill(capture.reference.begin() + right, capture.reference.end(), 0.0f);
    const auto analysis = analysed(capture, plain());
    CHECK(against(leftTaps, analysis.left, 48000.0).levelDb < 1e-4);
    CHECK(against(rightTaps, *analysis.right, 48000.0).levelDb < 1e-4);
    CHECK(codesOf(analysis) == std::vector<std::string>{ "reference-left-only" });
}

TEST_CASE("The interface's own response, in microphone and loopback alike, cancels")
{
    const Taps interface {
        { 10, 0.9 }, { 11, -0.3 }, { 14, 0.1 }
    };
    auto capture = captureThrough(shortStimulus(48000.0, 2.0), leftTaps, rightTaps, 0);
    auto through = [&](const std::vector<float>& signal)
    {
        std::vector<double> out(signal.size());
        addThrough(out, signal, 0, interface);
        return rounded(out);
    };
    capture.reference = through(capture.reference);
    capture.microphone = through(capture.microphone);
    const auto worst = against(leftTaps, analysed(capture, plain()).left, 48000.0, 0.0);
    CHECK(worst.levelDb < 1e-3);
    CHECK(worst.phaseDeg < 1e-2);
    capture.reference.clear();
    CHECK(against(leftTaps, analysed(capture, plain()).left, 48000.0, 0.0).levelDb > 1.0); // control
}

TEST_CASE("A single monitor's take has a left side alone")
{
    StimulusSpec spec;
    spec.seconds = 2.0;
    spec.levelDbfs = -20.0;
    spec.pair = false;
    const auto analysis = analysed(captureThrough(designStimulus(spec).value(), leftTaps, {}), plain());
    CHECK_FALSE(analysis.right.has_value());
    CHECK(against(leftTaps, analysis.left, 48000.0).levelDb < 1e-4);
    CHECK(codesOf(analysis).empty());
}

TEST_CASE("A converter's direct voltage changes nothing")
{
    auto capture = captureThrough(shortStimulus(), leftTaps, rightTaps);
    for (std::size_t i = 0; i < capture.microphone.size(); ++i)
    {
        capture.microphone[i] += 0.03125f;
        capture.reference[i] -= 0.0625f;
    }
    for (const auto window : { whole, WindowChoice{} })
    {
        const auto analysis = analysed(capture, looking(0, window));
        const auto still = analysed(captureThrough(shortStimulus(), leftTaps, rightTaps), looking(0, window));
        for (std::size_t i = 0; i < still.left.response.levelDb.size(); ++i)
            REQUIRE(analysis.left.response.levelDb[i] ==
                    Approx(still.left.response.levelDb[i]).margin(0.001));
        CHECK(analysis.left.travelTimeSeconds.value() ==
              Approx(still.left.travelTimeSeconds.value()).margin(1e-9));
    }
}

TEST_CASE("Polarity is told of each side by itself")
{
    const auto analysis =
        analysed(captureThrough(shortStimulus(48000.0, 2.0), scaled(leftTaps, -1.0), rightTaps), plain());
    CHECK(analysis.left.polarity == -1);
    CHECK(analysis.right->polarity == 1);
    CHECK(against(scaled(leftTaps, -1.0), analysis.left, 48000.0).phaseDeg < 1e-3);
}

TEST_CASE("A microphone's calibration is taken off level and phase")
{
    const auto capture = captureThrough(shortStimulus(), leftTaps, rightTaps);
    auto with = plain();
    using Point = Calibration::Point;
    with.microphone.calibration =
        Calibration::fromPoints("x", { Point{ 10, -3, 30 }, Point{ 1000, 0, 0 }, Point{ 100000, 4, -80 } },
                                true)
            .value();
    const auto bare = analysed(capture, plain()), corrected = analysed(capture, with);
    CHECK(codesOf(corrected).empty());
    for (std::size_t i = 0; i < bare.left.response.frequencyHz.size(); ++i)
    {
        // Worked by hand: two decades either side of 1 kHz, linear in lg f.
        const double decades = std::log10(bare.left.response.frequencyHz[i] / 1000.0);
        const double levelDb = decades < 0.0 ? 1.5 * decades : 2.0 * decades;
        const double phaseDeg = decades < 0.0 ? -15.0 * decades : -40.0 * decades;
        REQUIRE(bare.left.response.levelDb[i] - corrected.left.response.levelDb[i] ==
                Approx(levelDb).margin(1e-9));
        REQUIRE(turnedDeg(bare.left.response.phaseDeg[i] - corrected.left.response.phaseDeg[i], phaseDeg) ==
                Approx(0.0).margin(1e-6));
    }
}

TEST_CASE(
    "Smoothing is the mean power over the window, as a dense sum over the system's closed form gives it")
{
    // Hatziantoniou & Mourjopoulos, JAES 48 (2000) 259: rectangular, f 2^(+-1/2N), linear frequency; cut
    // where nothing was swept.
    const auto capture = captureThrough(shortStimulus(48000.0, 5.0), leftTaps, rightTaps);
    const auto excited = excitedRange(capture.stimulus.sweep, capture.stimulus.spec.band);
    for (const int perOctave : { 1, 3, 12, 48 })
    {
        const auto curve = analysed(capture, looking(perOctave, whole)).left.response;
        double worst = 0.0;
        for (std::size_t i = 0; i < curve.frequencyHz.size(); i += 7)
        {
            const double low = std::max(excited.lowHz, curve.frequencyHz[i] * std::exp2(-0.5 / perOctave));
            const double high = std::min(excited.taperHz, curve.frequencyHz[i] * std::exp2(0.5 / perOctave));
            constexpr int points = 4000;
            double sum = 0.0;
            for (int p = 0; p < points; ++p)
                sum += std::norm(responseOf(leftTaps, low + (p + 0.5) / points * (high - low), 48000.0)) /
                       points;
            worst = std::max(worst, std::abs(curve.levelDb[i] - decibelsFromPower(sum)));
        }
        CAPTURE(perOctave);
        CHECK(worst < 0.002);
    }
}

TEST_CASE("Smoothing leaves the phase alone")
{
    const auto capture = captureThrough(shortStimulus(), leftTaps, rightTaps);
    CHECK(analysed(capture, looking(3, whole)).left.response.phaseDeg ==
          analysed(capture, plain()).left.response.phaseDeg);
}

TEST_CASE("A fixed gate leaves out what comes after it, and says which lows it cannot tell")
{
    // An echo 30 ms late and 6 dB down: a comb of 3.5 to -6 dB, 33 Hz apart; a gate of 20 ms does not see it.
    const Taps echo{ { 300, 0.5 }, { 1740, 0.25 } };
    const auto capture = captureThrough(shortStimulus(), echo, echo);
    const auto analysis = analysed(capture, looking(0, { WindowChoice::Kind::fixed, 20.0 }));
    CHECK(analysis.left.windowMs == Approx(20.0).margin(0.05));
    const auto& curve = analysis.left.response;
    for (std::size_t i = 0; i < curve.frequencyHz.size(); ++i)
    {
        if (curve.frequencyHz[i] > 500.0) // ten periods to a gate
            REQUIRE(curve.levelDb[i] == Approx(-6.0206).margin(0.05));
        if (std::abs(curve.frequencyHz[i] - 50.0) > 0.5)
            REQUIRE(curve.known[i] == (curve.frequencyHz[i] > 50.0)); // 1 / 20 ms
    }
    const auto seen = analysed(capture, looking(0, whole)).left.response;
    const auto [least, most] = std::minmax_element(seen.levelDb.begin(), seen.levelDb.end());
    CHECK(*most - *least > 9.0); // control
}

TEST_CASE("The automatic gate keeps a short response whole")
{
    const auto analysis =
        analysed(captureThrough(shortStimulus(48000.0, 3.0), leftTaps, rightTaps), looking(0, {}));
    CHECK(analysis.left.windowMs >= 149.0);
    const auto worst = against(leftTaps, analysis.left, 48000.0);
    CHECK(worst.levelDb < 0.01);
    CHECK(worst.unknown == 0);
}

TEST_CASE(
    "The settings asked for come back with the analysis, and the transforms it uses are told beforehand")
{
    auto settings = looking(6, { WindowChoice::Kind::fixed, 30.0 });
    settings.microphone.sensitivityDbSpl = 94.0;
    const auto analysis = analysed(captureThrough(shortStimulus(), leftTaps, rightTaps), settings);
    CHECK(analysis.settings.smoothing == settings.smoothing);
    CHECK(analysis.settings.window == settings.window);
    CHECK(analysis.settings.microphone.sensitivityDbSpl == 94.0);
    const auto lengths = transformLengths(shortStimulus());
    REQUIRE_FALSE(lengths.empty());
    CHECK(lengths.front() >= shortStimulus().segmentSamples());
    for (const auto length : lengths)
        CHECK(length % 2 == 0);
}
