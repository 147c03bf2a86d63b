// What could pass here for the wrong reason: an analysis that is right for a wire, or that agrees with
// itself. Systems are lists of taps, convolved by definition and known in closed form at every frequency; the
// two sides always differ; every doubt and mask has a case beside it that must not raise it.

#include "Measure/TakeAnalysis.h"
#include "Dsp/Random.h"
#include "Measure/Deconvolution.h"
#include "Support/Captures.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <functional>
#include <limits>

using namespace plumbline;
using namespace plumbline::test;

namespace
{
/** A direct sound and echoes: up to 8 dB of ripple, different on the two sides. */
const Taps leftTaps{ { 300, 0.5 }, { 331, 0.12 }, { 390, -0.08 }, { 2300, 0.02 } };
const Taps rightTaps{ { 317, 0.4 }, { 340, -0.1 }, { 451, 0.07 } };

AnalysisSettings looking(int perOctave, WindowChoice window)
{
    AnalysisSettings settings;
    settings.smoothing = { perOctave };
    settings.window = window;
    return settings;
}

const WindowChoice whole{ WindowChoice::Kind::full, 0.0 };

/** The sharpest way of looking: no smoothing, no gate. */
AnalysisSettings plain()
{
    return looking(0, whole);
}

TakeAnalysis analysed(const Capture& capture, const AnalysisSettings& settings)
{
    auto result = analyseTake(capture, settings);
    if (!result.ok())
        FAIL(result.problem().sentence());
    return std::move(result).value();
}

std::vector<std::string> codesOf(const TakeAnalysis& analysis)
{
    std::vector<std::string> codes;
    for (const auto& fault : analysis.faults)
    {
        CHECK_THAT(fault.words, Catch::EndsWith("."));
        codes.push_back(fault.code);
    }
    return codes;
}

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

void addNoise(std::vector<float>& samples, double deviation, std::uint64_t seed)
{
    Random random(seed);
    for (float& x : samples)
        x += static_cast<float>(deviation * random.normal());
}

Taps scaled(Taps taps, double gain)
{
    for (auto& tap : taps)
        tap.gain *= gain;
    return taps;
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
    CHECK(codesOf(known).empty());
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

TEST_CASE("A side that gave nothing is not heard, and nothing is claimed of it")
{
    for (const double noise : { 0.0, 1e-4 })
        for (const auto& [left, right, code] : { std::tuple{ leftTaps, Taps{}, "right-not-heard" },
                                                 std::tuple{ Taps{}, rightTaps, "left-not-heard" } })
            for (const auto window : { whole, WindowChoice{} })
            {
                auto capture = captureThrough(shortStimulus(), left, right);
                if (noise > 0.0)
                    addNoise(capture.microphone, noise, 3);
                const auto analysis = analysed(capture, looking(12, window));
                const auto& silent = left.empty() ? analysis.left : *analysis.right;
                const auto& heard = left.empty() ? *analysis.right : analysis.left;
                CAPTURE(noise, code, static_cast<int>(window.kind));
                CHECK_FALSE(silent.heard());
                CHECK_FALSE(silent.travelTimeSeconds.has_value());
                CHECK(std::none_of(silent.response.known.begin(), silent.response.known.end(),
                                   [](bool k) { return k; }));
                CHECK(heard.heard());
                CHECK(codesOf(analysis) == std::vector<std::string>{ code });
                CHECK(analysis.doubtful());
            }
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

TEST_CASE("Without silence before the left sweep the noise is not known, and the take is doubtful")
{
    auto capture = captureThrough(shortStimulus(), leftTaps, rightTaps);
    addNoise(capture.microphone, 1e-5, 4);
    auto cutTo = [&](std::ptrdiff_t leadInLeft)
    {
        auto cut = capture;
        const auto gone = static_cast<std::ptrdiff_t>(capture.stimulus.leftStart) - leadInLeft;
        cut.microphone.erase(cut.microphone.begin(), cut.microphone.begin() + gone);
        cut.reference.erase(cut.reference.begin(), cut.reference.begin() + gone);
        cut.stimulusStart = -gone;
        return cut;
    };
    const auto without = analysed(cutTo(0), looking(12, whole));
    CHECK(codesOf(without) == std::vector<std::string>{ "no-lead-in" });
    CHECK(without.doubtful());
    CHECK(without.left.response.noiseDb.empty());
    CHECK(without.left.response.sdDb.empty());
    CHECK(without.left.heard());
    const auto with = analysed(cutTo(9600), looking(12, whole));
    CHECK(codesOf(with).empty());
    CHECK(with.left.response.noiseDb.size() == with.left.response.frequencyHz.size());
    CHECK(with.left.response.sdDb.size() == with.left.response.frequencyHz.size());
}

TEST_CASE("A recording that ends within the last tail is doubtful, one that ends just with it is not")
{
    const auto capture = captureThrough(shortStimulus(), leftTaps, rightTaps);
    auto cutBy = [&](std::size_t samples)
    {
        auto cut = capture;
        cut.microphone.resize(cut.microphone.size() - samples);
        cut.reference.resize(cut.reference.size() - samples);
        return codesOf(analysed(cut, plain()));
    };
    CHECK(cutBy(14400) == std::vector<std::string>{ "tail-cut" });
    CHECK(cutBy(2000).empty());
}

TEST_CASE("A clipped capture is analysed, and doubtful")
{
    auto capture = captureThrough(shortStimulus(), leftTaps, rightTaps);
    std::fill_n(capture.microphone.begin() + 60000, 5, 1.0f);
    const auto analysis = analysed(capture, plain());
    CHECK(codesOf(analysis) == std::vector<std::string>{ "microphone-clipped" });
    CHECK(analysis.doubtful());
}

TEST_CASE("Sound that comes before the reference, or after the silence, is refused")
{
    // 5 ms before it is a recording's own slack: 240 samples.
    CHECK(
        analyseTake(captureThrough(shortStimulus(), { { 100, 0.5 } }, { { 100, 0.5 } }, 300), plain()).ok());
    for (const auto window : { whole, WindowChoice{} })
    {
        const auto early = analyseTake(
            captureThrough(shortStimulus(), { { 100, 0.5 } }, { { 100, 0.5 } }, 3000), looking(12, window));
        REQUIRE_FALSE(early.ok());
        CHECK(early.problem().code == "timing-impossible");
    }
    // Later than the left's silence of a second: whole only where the stream goes on, so the right is heard
    // early too.
    auto late = captureThrough(shortStimulus(), { { 52000, 0.5 } }, { { 300, 0.5 } });
    const auto refused = analyseTake(late, plain());
    REQUIRE_FALSE(refused.ok());
    CHECK(refused.problem().code == "timing-impossible");
}

TEST_CASE("What cannot be analysed at all gives its reason")
{
    auto silent = captureThrough(shortStimulus(), {}, {});
    CHECK(analyseTake(silent, plain()).problem().code == "silent-microphone");
    auto strange = captureThrough(shortStimulus(), leftTaps, rightTaps);
    strange.microphone[1000] = std::numeric_limits<float>::quiet_NaN();
    CHECK(analyseTake(strange, plain()).problem().code == "not-finite");
    auto late = captureThrough(shortStimulus(), leftTaps, rightTaps);
    late.stimulusStart = -static_cast<std::ptrdiff_t>(late.stimulus.leftStart) - 1;
    CHECK(analyseTake(late, plain()).problem().code == "begins-late");
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

TEST_CASE("A calibration that does not reach over the band is used, and noted")
{
    auto settings = plain();
    using Point = Calibration::Point;
    settings.microphone.calibration =
        Calibration::fromPoints("x", { Point{ 50, 1, 0 }, Point{ 15000, 1, 0 } }, false).value();
    const auto analysis = analysed(captureThrough(shortStimulus(), leftTaps, rightTaps), settings);
    CHECK(codesOf(analysis) == std::vector<std::string>{ "calibration-narrow" });
    CHECK_FALSE(analysis.doubtful());
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
    "Where the noise makes the level scatter the curve is unknown; what is known is right within 0.5 dB")
{
    // Rumble: y[n] = x[n] + 0.9 y[n - 1], flat to 800 Hz and falling above. The bass goes under it, the
    // treble does not.
    std::size_t known = 0, right = 0, unknown = 0, unknownWrong = 0;
    double squares = 0.0;
    for (const std::uint64_t seed : { 1u, 2u, 3u })
    {
        auto capture = captureThrough(shortStimulus(), leftTaps, rightTaps);
        std::vector<float> rumble(capture.microphone.size(), 0.0f);
        addNoise(rumble, 3e-3, seed);
        for (std::size_t i = 1; i < rumble.size(); ++i)
            rumble[i] += 0.9f * rumble[i - 1];
        std::transform(rumble.begin(), rumble.end(), capture.microphone.begin(), capture.microphone.begin(),
                       std::plus());
        const auto curve = analysed(capture, looking(12, whole)).left.response;
        REQUIRE(curve.sdDb.size() == curve.frequencyHz.size());
        for (std::size_t i = 0; i < curve.frequencyHz.size(); i += 4) // independent windows
        {
            double truth = 0.0;
            constexpr int points = 400;
            const OctaveFraction twelfth{ 12 };
            const double low = twelfth.lowEdge(curve.frequencyHz[i]),
                         high = twelfth.highEdge(curve.frequencyHz[i]);
            for (int p = 0; p < points; ++p)
                truth += std::norm(responseOf(leftTaps, low + (p + 0.5) / points * (high - low), 48000.0)) /
                         points;
            const double error = curve.levelDb[i] - decibelsFromPower(truth);
            REQUIRE(curve.known[i] == (curve.sdDb[i] <= largestKnownDeviationDb));
            (curve.known[i] ? known : unknown) += 1;
            right += curve.known[i] && std::abs(error) <= 0.5 ? 1u : 0u;
            unknownWrong += !curve.known[i] && std::abs(error) > 0.5 ? 1u : 0u;
            squares += curve.known[i] ? std::pow(error / curve.sdDb[i], 2.0) : 0.0;
        }
    }
    CAPTURE(known, unknown, unknownWrong);
    REQUIRE(known > 100);
    REQUIRE(unknown > 30);
    CHECK(static_cast<double>(right) >= 0.95 * static_cast<double>(known));
    CHECK(unknownWrong > unknown / 10); // control: those masked were worth masking
    const double ratio = std::sqrt(squares / static_cast<double>(known));
    CHECK(ratio > 0.8);
    CHECK(ratio < 1.25);
}

TEST_CASE("The noise curve is the level that the noise alone would show")
{
    auto capture = captureThrough(shortStimulus(), leftTaps, rightTaps);
    addNoise(capture.microphone, 1e-3, 5);
    const auto curve = analysed(capture, looking(3, whole)).left.response;
    // v x samples x f / ((rate / 2)^2 peak^2 L): noise over the sweep's closed form (Novak et al. 2015).
    const auto& stimulus = capture.stimulus;
    for (std::size_t i = 0; i < curve.frequencyHz.size(); i += 16)
    {
        const double hz = curve.frequencyHz[i];
        if (hz < 300.0 || hz > 17000.0)
            continue;
        const double error = 1e-6 * static_cast<double>(stimulus.segmentSamples()) * hz * 0.5 *
                             (std::exp2(1.0 / 6.0) + std::exp2(-1.0 / 6.0)) /
                             (std::pow(2400.0, 2.0) * stimulus.sweep.rateSeconds);
        CAPTURE(hz);
        CHECK(curve.noiseDb[i] ==
              Approx(decibelsFromPower(error)).margin(4.3 * 4.0 / std::sqrt(0.23 * hz * 0.75)));
    }
}

TEST_CASE("Every value is finite, known or not")
{
    auto capture = captureThrough(shortStimulus(), scaled(leftTaps, 1e-3), {});
    addNoise(capture.microphone, 1e-2, 6);
    const auto analysis = analysed(capture, looking(12, {}));
    for (const auto* side : { &analysis.left, &*analysis.right })
        for (std::size_t i = 0; i < side->response.frequencyHz.size(); ++i)
        {
            REQUIRE(std::isfinite(side->response.levelDb[i]));
            REQUIRE(std::isfinite(side->response.phaseDeg[i]));
        }
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
