// What could pass here for the wrong reason: a layout that adds up although its parts overlap, and a ceiling
// that is held by the check alone while the samples go over it.

#include "Measure/Stimulus.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <numbers>

using namespace plumbline;

namespace
{
Problem refusalOf(const StimulusSpec& spec)
{
    const auto refused = designStimulus(spec);
    REQUIRE_FALSE(refused.ok());
    return refused.problem();
}
}

TEST_CASE("A stimulus is lead-in, left sweep, silence, right sweep, silence, without gap or overlap")
{
    StimulusSpec spec;
    spec.sampleRateHz = 48000.0;
    spec.seconds = 2.0;
    spec.leadInSeconds = 0.5;
    spec.silenceSeconds = 1.25;
    const auto stimulus = designStimulus(spec).value();
    CHECK(stimulus.spec == spec);
    CHECK(stimulus.leadInSamples == 24000);
    CHECK(stimulus.silenceSamples == 60000);
    CHECK(stimulus.leftStart == 24000);
    CHECK(stimulus.segmentSamples() == stimulus.sweep.samples + 60000);
    REQUIRE(stimulus.rightStart.has_value());
    CHECK(*stimulus.rightStart == 24000 + stimulus.sweep.samples + 60000);
    CHECK(stimulus.totalSamples == 24000 + 2 * (stimulus.sweep.samples + 60000));
    CHECK(stimulus.start(Side::left) == stimulus.leftStart);
    CHECK(stimulus.start(Side::right) == *stimulus.rightStart);
    CHECK(stimulus.sideCount() == 2);
    CHECK(stimulus.sweep == designSweep(48000.0, 2.0, spec.band).value());
}

TEST_CASE("A single monitor's stimulus has the left sweep alone")
{
    StimulusSpec spec;
    spec.pair = false;
    spec.seconds = 1.0;
    const auto stimulus = designStimulus(spec).value();
    CHECK_FALSE(stimulus.rightStart.has_value());
    CHECK(stimulus.sideCount() == 1);
    CHECK(stimulus.totalSamples == stimulus.leftStart + stimulus.segmentSamples());
}

TEST_CASE("Silences are never shorter than asked, whatever the rate")
{
    for (const double rate : { 8000.0, 11025.0, 44100.0, 88200.0, 192000.0 })
        for (const double seconds : { 1.0, 1.00001, 3.3 })
        {
            StimulusSpec spec;
            spec.sampleRateHz = rate;
            spec.band = { 100.0, 3000.0 };
            spec.seconds = 1.0;
            spec.leadInSeconds = spec.silenceSeconds = seconds;
            const auto stimulus = designStimulus(spec).value();
            CAPTURE(rate, seconds);
            CHECK(static_cast<double>(stimulus.leadInSamples) >= seconds * rate);
            CHECK(static_cast<double>(stimulus.leadInSamples) < seconds * rate + 1.0);
            CHECK(static_cast<double>(stimulus.silenceSamples) >= seconds * rate);
            CHECK(static_cast<double>(stimulus.silenceSamples) < seconds * rate + 1.0);
        }
}

TEST_CASE("What is played is the sweep's formula at its level, rounded to the nearest 32-bit float")
{
    StimulusSpec spec;
    spec.seconds = 1.0;
    spec.levelDbfs = -23.0;
    const auto stimulus = designStimulus(spec).value();
    const auto& sweep = stimulus.sweep;
    const auto played = playedSweep(stimulus);
    REQUIRE(played.size() == sweep.samples);
    const double peak = std::pow(10.0, -23.0 / 20.0), turns = std::round(sweep.startHz * sweep.rateSeconds);
    std::size_t wrong = 0;
    for (std::size_t i = sweep.fadeInSamples; i < sweep.samples - sweep.fadeOutSamples; ++i)
    {
        const double exact =
            peak *
            std::sin(2.0 * std::numbers::pi *
                     std::fmod(turns * std::exp(static_cast<double>(i) / 48000.0 / sweep.rateSeconds), 1.0));
        // Half the distance to the next float, and a hair for the double's own rounding of a phase of 4000
        // turns.
        const float next = std::nextafter(std::abs(played[i]), 1.0f);
        const double half = 0.5 * static_cast<double>(next - std::abs(played[i]));
        wrong += std::abs(static_cast<double>(played[i]) - exact) > half + 1e-11 ? 1u : 0u;
    }
    CHECK(wrong == 0);
}

TEST_CASE("No sample is ever over the level, and the ceiling is the loudest there is")
{
    CHECK(ceilingDbfs == -6.0);
    CHECK(startLevelDbfs <= -40.0);
    CHECK(StimulusSpec{}.levelDbfs <= -40.0);
    for (const double level : { -6.0, -20.0, -40.0, -120.0 })
    {
        StimulusSpec spec;
        spec.seconds = 1.0;
        spec.levelDbfs = level;
        const auto played = playedSweep(designStimulus(spec).value());
        float largest = 0.0f;
        for (const float x : played)
            largest = std::max(largest, std::abs(x));
        const auto peak = std::pow(10.0, level / 20.0);
        CAPTURE(level);
        CHECK(static_cast<double>(largest) <= peak * (1.0 + 6e-8)); // half a float's step
        CHECK(static_cast<double>(largest) > 0.999 * peak);
    }
}

TEST_CASE("A level above the ceiling, or one that is no level, is refused")
{
    StimulusSpec spec;
    for (const double level : { -5.999, 0.0, 20.0, std::numeric_limits<double>::infinity(),
                                std::numeric_limits<double>::quiet_NaN() })
    {
        spec.levelDbfs = level;
        CAPTURE(level);
        CHECK(refusalOf(spec).code == "stimulus-impossible");
        CHECK_THAT(refusalOf(spec).sentence(), Catch::Contains("-6 dBFS"));
    }
    spec.levelDbfs = -std::numeric_limits<double>::infinity();
    CHECK_THAT(refusalOf(spec).sentence(), Catch::Contains("-120 dBFS"));
}

TEST_CASE("Silences out of range are refused, and their limits allowed")
{
    auto with = [](double leadIn, double silence)
    {
        StimulusSpec spec;
        spec.leadInSeconds = leadIn;
        spec.silenceSeconds = silence;
        return spec;
    };
    const double none = std::numeric_limits<double>::quiet_NaN();
    CHECK(designStimulus(with(0.1, 1.0)).ok());
    CHECK(designStimulus(with(10.0, 10.0)).ok());
    for (const double leadIn : { 0.0, 0.099, 10.01, -1.0, none })
        CHECK_THAT(refusalOf(with(leadIn, 1.0)).sentence(), Catch::Contains("before the first sweep"));
    for (const double silence : { 0.0, 0.999, 10.01, -1.0, none })
        CHECK_THAT(refusalOf(with(1.0, silence)).sentence(), Catch::Contains("after a sweep"));
}

TEST_CASE("A sweep that cannot be made is refused with the sweep's own reason")
{
    StimulusSpec spec;
    spec.sampleRateHz = 22050.0;
    CHECK(refusalOf(spec) == designSweep(22050.0, spec.seconds, spec.band).problem());
}
