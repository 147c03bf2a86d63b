#include "Measure/CaptureFaults.h"

#include "Dsp/Wide.h"

#include <algorithm>
#include <array>
#include <bit>
#include <cmath>
#include <cstdint>

namespace plumbline
{

namespace
{
/** Bits of |x| as a whole number: they rise with |x|, and infinities and what is not a number come above all
    others. The largest of many is found several at a time. */
PLUMBLINE_WIDE std::int32_t largestBits(std::span<const float> samples) noexcept
{
    constexpr std::size_t lanes = 16;
    constexpr auto bitsOf = [](float x) { return std::bit_cast<std::int32_t>(x) & 0x7fffffff; };
    std::array<std::int32_t, lanes> largest{};
    std::size_t i = 0;
    for (; i + lanes <= samples.size(); i += lanes)
        for (std::size_t lane = 0; lane < lanes; ++lane)
            largest[lane] = std::max(largest[lane], bitsOf(samples[i + lane]));
    for (; i < samples.size(); ++i)
        largest[0] = std::max(largest[0], bitsOf(samples[i]));
    return *std::max_element(largest.begin(), largest.end());
}

float largestOf(std::span<const float> samples) noexcept
{
    return std::bit_cast<float>(largestBits(samples));
}

constexpr float fullScale = 0.9995f;
constexpr float leastAudible = 1e-7f; // -140 dBFS: under every converter's own noise
}

CaptureExtent::CaptureExtent(const Capture& capture) noexcept
    : microphone(largestOf(capture.microphone)), reference(largestOf(capture.reference))
{
}

std::optional<Problem> uselessness(const Capture& capture, const CaptureExtent& extent)
{
    if (!std::isfinite(extent.microphone) || !std::isfinite(extent.reference))
        return Problem{ "not-finite", "The capture holds values that are not numbers", "",
                        "Check the interface and its driver, and take it again" };
    if (extent.microphone <= leastAudible)
        return Problem{ "silent-microphone", "The microphone channel is silent", "",
                        "Check the microphone's power, its cable and the channel chosen" };
    if (capture.reference.empty())
        return std::nullopt;
    if (capture.reference.size() != capture.microphone.size())
        return Problem{ "reference-length", "The reference is not as long as the microphone's channel", "",
                        "Record both in one file" };
    if (extent.reference <= leastAudible)
        return Problem{ "silent-reference", "The reference channel is silent", "",
                        "Check the loopback cable and the channel chosen, or analyse without a reference" };
    return std::nullopt;
}

bool isClipped(std::span<const float> samples) noexcept
{
    constexpr int runThatCounts = 3;
    int run = 0;
    for (const float x : samples)
    {
        run = std::abs(x) >= fullScale ? run + 1 : 0;
        if (run == runThatCounts)
            return true;
    }
    return false;
}

std::vector<Fault> doubts(const Capture& capture, const CaptureExtent& extent)
{
    std::vector<Fault> found;
    if (extent.microphone >= fullScale && isClipped(capture.microphone))
        found.push_back({ "microphone-clipped", Fault::Severity::doubt,
                          "The microphone's channel clipped: turn its gain down and take it again." });
    if (extent.reference >= fullScale && isClipped(capture.reference))
        found.push_back({ "reference-clipped", Fault::Severity::doubt,
                          "The loopback clipped: turn its gain down and take it again." });
    return found;
}

}
