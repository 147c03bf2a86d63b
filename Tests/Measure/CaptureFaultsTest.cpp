// What could pass here for the wrong reason: a check that looks at the first sample, or at one channel alone;
// so faults stand in the middle and at the ends, and in either channel.

#include "Measure/CaptureFaults.h"
#include "Support/Captures.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <limits>

using namespace plumbline;
using namespace plumbline::test;

namespace
{
constexpr float none = std::numeric_limits<float>::quiet_NaN(),
                endless = std::numeric_limits<float>::infinity();

Capture soundCapture()
{
    static const auto capture = captureThrough(shortStimulus(), { { 200, 0.5 } }, { { 210, 0.5 } });
    return capture;
}

std::string codeOf(const Capture& capture)
{
    const auto reason = uselessness(capture);
    if (!reason)
        return "";
    CHECK_THAT(reason->sentence(), Catch::EndsWith("."));
    CHECK_FALSE(reason->remedy.empty());
    return reason->code;
}

std::vector<std::string> doubtCodes(const Capture& capture)
{
    std::vector<std::string> codes;
    for (const auto& fault : doubts(capture))
    {
        CHECK(fault.severity == Fault::Severity::doubt);
        CHECK_THAT(fault.words, Catch::EndsWith("."));
        codes.push_back(fault.code);
    }
    return codes;
}
}

TEST_CASE("A sound capture is neither useless nor doubtful, with a reference or without")
{
    auto capture = soundCapture();
    CHECK(codeOf(capture).empty());
    CHECK(doubtCodes(capture).empty());
    capture.reference.clear();
    CHECK(codeOf(capture).empty());
    CHECK(doubtCodes(capture).empty());
}

TEST_CASE("One value that is no number makes a capture useless, wherever it stands")
{
    for (const float bad : { none, endless, -endless })
        for (const bool inReference : { false, true })
        {
            const auto size = soundCapture().microphone.size();
            for (const std::size_t at : { std::size_t{ 0 }, size / 2, size - 1 })
            {
                auto capture = soundCapture();
                (inReference ? capture.reference : capture.microphone)[at] = bad;
                CAPTURE(bad, inReference, at);
                CHECK(codeOf(capture) == "not-finite");
            }
        }
}

TEST_CASE("A microphone channel that is empty, or under -140 dBFS throughout, is silent")
{
    auto capture = soundCapture();
    std::fill(capture.microphone.begin(), capture.microphone.end(), 0.0f);
    CHECK(codeOf(capture) == "silent-microphone");
    std::fill(capture.microphone.begin(), capture.microphone.end(), -9e-8f);
    CHECK(codeOf(capture) == "silent-microphone");
    capture.microphone[capture.microphone.size() / 2] = 2e-7f;
    CHECK(codeOf(capture).empty());
    capture.microphone.clear();
    capture.reference.clear();
    CHECK(codeOf(capture) == "silent-microphone");
}

TEST_CASE("A reference must be as long as the microphone's channel, and not silent")
{
    auto capture = soundCapture();
    capture.reference.pop_back();
    CHECK(codeOf(capture) == "reference-length");
    capture = soundCapture();
    capture.reference.push_back(0.0f);
    CHECK(codeOf(capture) == "reference-length");
    capture = soundCapture();
    std::fill(capture.reference.begin(), capture.reference.end(), 0.0f);
    CHECK(codeOf(capture) == "silent-reference");
}

TEST_CASE("Three samples in a row at full scale are clipping; two, or three apart, are not")
{
    std::vector<float> samples(100, 0.1f);
    CHECK_FALSE(isClipped(samples));
    CHECK_FALSE(isClipped({}));
    samples[50] = samples[51] = 1.0f;
    CHECK_FALSE(isClipped(samples));
    samples[53] = 1.0f;
    CHECK_FALSE(isClipped(samples));
    samples[52] = 1.0f;
    CHECK(isClipped(samples));
    std::vector<float> negative(100, 0.0f);
    negative[0] = negative[1] = negative[2] = -1.0f;
    CHECK(isClipped(negative));
    std::vector<float> atEnd(100, 0.0f);
    atEnd[97] = atEnd[98] = atEnd[99] = 1.0f;
    CHECK(isClipped(atEnd));
    // A float file may hold values over full scale: those clipped too, once they come out of a converter.
    std::vector<float> over(100, 0.0f);
    over[10] = 1.5f, over[11] = 1.7f, over[12] = 1.4f;
    CHECK(isClipped(over));
}

TEST_CASE("A sine at full scale is not clipping by itself, one driven over it is")
{
    auto sine = [](double peak)
    {
        std::vector<float> samples(4800);
        for (std::size_t i = 0; i < samples.size(); ++i)
        {
            const double x =
                peak * std::sin(2.0 * std::numbers::pi * 1000.0 * static_cast<double>(i) / 48000.0);
            samples[i] = static_cast<float>(std::clamp(x, -1.0, 1.0));
        }
        return samples;
    };
    CHECK_FALSE(isClipped(sine(0.999)));
    CHECK(isClipped(sine(1.1)));
}

TEST_CASE("Clipping is told of the channel in which it is")
{
    auto clip = [](std::vector<float>& channel)
    {
        for (std::size_t i = 70000; i < 70010; ++i)
            channel[i] = 1.0f;
    };
    auto capture = soundCapture();
    clip(capture.microphone);
    CHECK(doubtCodes(capture) == std::vector<std::string>{ "microphone-clipped" });
    clip(capture.reference);
    CHECK(doubtCodes(capture) == std::vector<std::string>{ "microphone-clipped", "reference-clipped" });
    capture = soundCapture();
    clip(capture.reference);
    CHECK(doubtCodes(capture) == std::vector<std::string>{ "reference-clipped" });
    CHECK(codeOf(capture).empty());
}
