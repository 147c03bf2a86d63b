// What could pass here for the wrong reason: a search that always answers, and so finds every stimulus in
// everything. Half of these cases hold no stimulus, or another one, and must be refused; the found places are
// known to the sample.

#include "Measure/Location.h"
#include "Dsp/Random.h"
#include "Support/Captures.h"

#include <catch2/catch.hpp>

using namespace plumbline;
using namespace plumbline::test;

namespace
{
Stimulus pairStimulus(double seconds = 1.0, double rate = 48000.0)
{
    return shortStimulus(rate, seconds);
}

struct Recording
{
    double noise = 0.0;
    Taps left{ { 0, 0.5 } }, right{ { 0, 0.5 } };
    std::ptrdiff_t start = 0;  ///< sample of the recording at which the stimulus begins
    std::size_t after = 12000; ///< samples recorded beyond the stimulus
    std::uint64_t seed = 1;
};

/** A recording that began at any time. */
std::vector<float> record(const Stimulus& stimulus, const Recording& recording)
{
    const auto total = static_cast<std::ptrdiff_t>(stimulus.totalSamples + recording.after);
    std::vector<double> whole(stimulus.totalSamples + recording.after);
    const auto played = playedSweep(stimulus);
    addThrough(whole, played, stimulus.leftStart, recording.left);
    if (stimulus.rightStart)
        addThrough(whole, played, *stimulus.rightStart, recording.right);
    Random random(recording.seed);
    std::vector<float> samples;
    for (auto i = -recording.start; i < total; ++i)
        samples.push_back(static_cast<float>((i >= 0 ? whole[static_cast<std::size_t>(i)] : 0.0) +
                                             recording.noise * random.normal()));
    return samples;
}

/** Echoes that thin out over some tenths of a second, after a direct sound. */
Taps roomTaps(std::uint64_t seed)
{
    Random random(seed);
    Taps taps{ { 0, 1.0 } };
    for (int i = 1; i < 60; ++i)
        taps.push_back({ static_cast<std::size_t>(200.0 * i + 150.0 * random.uniform()),
                         0.4 * std::exp(-0.06 * i) * random.normal() });
    return taps;
}

/** Chords of decaying harmonic notes, four a second. */
std::vector<float> music(std::size_t count, std::uint64_t seed)
{
    Random random(seed);
    std::vector<double> samples(count);
    for (std::size_t start = 0; start < count; start += 6000)
    {
        const double root = 55.0 * std::exp2(std::floor(36.0 * random.uniform()) / 12.0);
        for (int harmonic = 1; harmonic <= 12; ++harmonic)
            for (std::size_t i = start; i < std::min(count, start + 48000); ++i)
            {
                const double t = static_cast<double>(i - start) / 48000.0;
                samples[i] += 0.02 / harmonic * std::exp(-4.0 * t) *
                              std::sin(2.0 * std::numbers::pi * root * harmonic * t);
            }
    }
    return rounded(samples);
}

Capture captureOf(const Stimulus& stimulus, std::vector<float> microphone, std::vector<float> reference = {})
{
    Capture capture;
    capture.stimulus = stimulus;
    capture.microphone = std::move(microphone);
    capture.reference = std::move(reference);
    return capture;
}

std::string codeOf(const Capture& capture)
{
    const auto placed = place(capture);
    if (placed.ok())
        return "";
    CHECK_THAT(placed.problem().sentence(), Catch::EndsWith("."));
    return placed.problem().code;
}

constexpr std::ptrdiff_t slack = 96; // 2 ms: a recording is placed so that its first arrival comes this late
}

TEST_CASE("A stimulus is found to the sample wherever it begins")
{
    const auto stimulus = pairStimulus();
    Random random(31);
    for (int i = 0; i < 8; ++i)
    {
        Recording recording;
        recording.start = static_cast<std::ptrdiff_t>(200000.0 * random.uniform()) -
                          40000; // as early as within the lead-in
        recording.noise = 1e-4;
        recording.seed = static_cast<std::uint64_t>(i);
        CAPTURE(recording.start);
        const auto found = findStimulus(record(stimulus, recording), stimulus);
        REQUIRE(found.has_value());
        CHECK(*found == recording.start);
    }
}

TEST_CASE("A sound on the edge between two blocks of the search is at most three samples off")
{
    // The flank of the peak's own sinc then lies in the block before, and counts while it is over a tenth:
    // with b the excited share of the band, 21.4 / 24, |sin(pi b n) / (pi b n)| is 0.12, 0.11, 0.10, 0.09 at
    // n = 1 .. 4 samples. Nothing hangs on these samples: travel times are counted from the reference, or
    // right against left.
    const auto stimulus = pairStimulus();
    for (const std::ptrdiff_t offset : { -1, 0, 1, 2, 3 })
    {
        Recording recording;
        recording.start = 240 * 50 - static_cast<std::ptrdiff_t>(stimulus.leadInSamples) + offset;
        const auto found = findStimulus(record(stimulus, recording), stimulus);
        REQUIRE(found.has_value());
        CHECK(std::abs(*found - recording.start) <= 3);
    }
}

TEST_CASE("A stimulus is found through a room, inverted, faint or with unequal sides")
{
    const auto stimulus = pairStimulus();
    Taps inverted{ { 0, -0.5 } }, faint{ { 0, 0.003 } }, loud{ { 0, 0.3 } };
    for (const auto& [left, right] :
         { std::pair{ roomTaps(1), roomTaps(2) }, std::pair{ inverted, inverted }, std::pair{ faint, faint },
           std::pair{ loud, inverted }, std::pair{ loud, Taps{ { 0, 0.03 } } } })
    {
        Recording recording;
        recording.left = left;
        recording.right = right;
        recording.start = 12345;
        recording.noise = 1e-6;
        const auto found = findStimulus(record(stimulus, recording), stimulus);
        REQUIRE(found.has_value());
        CHECK(*found == 12345);
    }
}

TEST_CASE("What is found is the direct sound and not a stronger reflection 40 ms after it")
{
    const auto stimulus = pairStimulus();
    Recording recording;
    recording.left = recording.right = { { 0, 0.2 }, { 1920, 0.5 } };
    recording.start = 7000;
    CHECK(findStimulus(record(stimulus, recording), stimulus) == 7000);
}

TEST_CASE("A single monitor's stimulus is found too, and at other rates")
{
    for (const double rate : { 44100.0, 96000.0 })
    {
        StimulusSpec spec;
        spec.sampleRateHz = rate;
        spec.seconds = 1.0;
        spec.pair = false;
        spec.levelDbfs = -20.0;
        const auto single = designStimulus(spec).value();
        Recording recording;
        recording.start = 5000;
        recording.noise = 1e-5;
        CAPTURE(rate);
        CHECK(findStimulus(record(single, recording), single) == 5000);
    }
}

TEST_CASE("A recording without the stimulus is refused: noise, silence, music, one side alone")
{
    const auto stimulus = pairStimulus();
    const auto count = stimulus.totalSamples + 50000;
    for (const std::uint64_t seed : { 1u, 2u, 3u, 4u })
    {
        Random random(seed);
        std::vector<float> noise(count);
        for (float& x : noise)
            x = static_cast<float>(0.1 * random.normal());
        CAPTURE(seed);
        CHECK_FALSE(findStimulus(noise, stimulus).has_value());
        CHECK(codeOf(captureOf(stimulus, noise)) == "not-this-stimulus");
        CHECK_FALSE(findStimulus(music(count, seed), stimulus).has_value());
    }
    CHECK_FALSE(findStimulus(std::vector<float>(count, 0.0f), stimulus).has_value());
    Recording leftAlone;
    leftAlone.right = {};
    leftAlone.noise = 1e-4;
    CHECK_FALSE(findStimulus(record(stimulus, leftAlone), stimulus).has_value());
    std::vector<float> click(count, 0.0f);
    click[100000] = 0.9f;
    CHECK_FALSE(findStimulus(click, stimulus).has_value());
}

TEST_CASE("Another stimulus is refused, even one that is longer or shorter by a single step of its length")
{
    // f1 L is whole: lengths step by ln(f2 / f1) / f1, half a second. Other bands and rates are other stimuli
    // as well.
    const auto stimulus = pairStimulus(3.0);
    const double turns = stimulus.sweep.startHz * stimulus.sweep.rateSeconds;
    std::vector<Stimulus> others{ pairStimulus(2.0), pairStimulus(5.0) };
    for (const double seconds : { 2.5, 3.5 })
    {
        others.push_back(pairStimulus(seconds));
        const double step = std::round(others.back().sweep.startHz * others.back().sweep.rateSeconds - turns);
        REQUIRE(std::abs(step) == 1.0);
    }
    StimulusSpec spec = stimulus.spec;
    spec.band = { 40.0, 16000.0 };
    others.push_back(designStimulus(spec).value());
    for (const auto& other : others)
    {
        Recording recording;
        recording.noise = 1e-5;
        recording.start = 3000;
        recording.after = 200000;
        CAPTURE(other.spec.seconds, other.spec.band.fromHz);
        const auto capture = captureOf(stimulus, record(other, recording));
        CHECK_FALSE(findStimulus(capture.microphone, stimulus).has_value());
        CHECK_FALSE(codeOf(capture).empty());
        CHECK(findStimulus(capture.microphone, other).has_value()); // control: it is there
    }
}

TEST_CASE("A capture with a known start is taken as it stands, even a negative one")
{
    const auto stimulus = pairStimulus();
    for (const std::ptrdiff_t start :
         { std::ptrdiff_t{ 0 }, std::ptrdiff_t{ -30000 }, std::ptrdiff_t{ 777 } })
    {
        Recording recording;
        recording.start = start;
        auto capture = captureOf(stimulus, record(stimulus, recording));
        capture.stimulusStart = start;
        const auto placed = place(capture);
        REQUIRE(placed.ok());
        CHECK(placed->stimulusStart == start);
        CHECK(placed->timeBaseKnown);
        CHECK_FALSE(placed->referenceLeftOnly);
    }
}

TEST_CASE("A recording is placed by its reference, or else by its microphone and then without a time base")
{
    const auto stimulus = pairStimulus();
    Recording heard, looped;
    heard.left = heard.right = { { 410, 0.1 } };
    heard.start = looped.start = 20000;
    heard.noise = 1e-5;
    const auto with = place(captureOf(stimulus, record(stimulus, heard), record(stimulus, looped)));
    REQUIRE(with.ok());
    CHECK(with->stimulusStart == 20000 - slack);
    CHECK(with->timeBaseKnown);
    CHECK_FALSE(with->referenceLeftOnly);
    const auto without = place(captureOf(stimulus, record(stimulus, heard)));
    REQUIRE(without.ok());
    CHECK(without->stimulusStart == 20000 + 410 - slack);
    CHECK_FALSE(without->timeBaseKnown);
}

TEST_CASE("A reference of the left alone places the take and is told apart")
{
    const auto stimulus = pairStimulus();
    Recording heard, looped;
    heard.start = looped.start = 9000;
    heard.noise = looped.noise = 1e-6;
    looped.right = {};
    auto capture = captureOf(stimulus, record(stimulus, heard), record(stimulus, looped));
    const auto placed = place(capture);
    REQUIRE(placed.ok());
    CHECK(placed->stimulusStart == 9000 - slack);
    CHECK(placed->referenceLeftOnly);
    CHECK(placed->timeBaseKnown);
    capture.stimulusStart = 9000;
    CHECK(place(capture)->referenceLeftOnly);
}

TEST_CASE("A recording that begins within the lead-in is placed before its own first sample")
{
    const auto stimulus = pairStimulus();
    Recording recording;
    recording.start = -static_cast<std::ptrdiff_t>(stimulus.leadInSamples) + 4860;
    const auto placed = place(captureOf(stimulus, record(stimulus, recording)));
    REQUIRE(placed.ok());
    CHECK(placed->stimulusStart == recording.start - slack);
}

TEST_CASE("A recording that begins after the left sweep began is refused, saying so")
{
    const auto stimulus = pairStimulus();
    auto begins = [&](std::ptrdiff_t afterSweepStart)
    {
        Recording recording;
        recording.start = -static_cast<std::ptrdiff_t>(stimulus.leadInSamples) - afterSweepStart;
        auto capture = captureOf(stimulus, record(stimulus, recording));
        capture.stimulusStart = recording.start;
        return codeOf(capture);
    };
    CHECK(begins(0).empty());
    CHECK(begins(1) == "begins-late");
    CHECK(begins(20000) == "begins-late");
}

TEST_CASE("A recording that ends before the last sweep's tail is refused with what is missing")
{
    const auto stimulus = pairStimulus();
    auto capture = captureOf(stimulus, record(stimulus, {}));
    capture.stimulusStart = 0;
    const auto lastSweepEnd = stimulus.totalSamples - stimulus.silenceSamples;
    capture.microphone.resize(lastSweepEnd + 4800);
    CHECK(codeOf(capture).empty());
    capture.microphone.resize(lastSweepEnd + 4799);
    CHECK(codeOf(capture) == "too-short");
    capture.microphone.resize(lastSweepEnd - 19200);
    REQUIRE(codeOf(capture) == "too-short");
    CHECK_THAT(place(capture).problem().sentence(), Catch::Contains("500 ms"));
}

TEST_CASE("A recording of unknown start that is far too short is refused as too short")
{
    const auto stimulus = pairStimulus();
    auto samples = record(stimulus, {});
    for (const std::size_t length : { std::size_t{ 0 }, std::size_t{ 100 }, stimulus.totalSamples / 2 })
    {
        auto cut = samples;
        cut.resize(length);
        CAPTURE(length);
        CHECK(codeOf(captureOf(stimulus, cut)) == "too-short");
    }
}
