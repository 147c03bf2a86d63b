#include "Measure/CaptureFaults.h"

#include <algorithm>
#include <cmath>

namespace plumbline
{

namespace
{
bool allFinite(std::span<const float> samples) noexcept
{
    return std::all_of(samples.begin(), samples.end(), [](float x) { return std::isfinite(x); });
}

bool isSilent(std::span<const float> samples) noexcept
{
    constexpr float leastAudible = 1e-7f; // -140 dBFS: under every converter's own noise
    return std::all_of(samples.begin(), samples.end(), [](float x) { return std::abs(x) <= leastAudible; });
}
}

std::optional<Problem> uselessness(const Capture& capture)
{
    if (!allFinite(capture.microphone) || !allFinite(capture.reference))
        return Problem { "not-finite", "The capture holds values that are not numbers", "",
                         "Check the interface and its driver, and take it again" };
    if (isSilent(capture.microphone))
        return Problem { "silent-microphone", "The microphone channel is silent", "",
                         "Check the microphone's power, its cable and the channel chosen" };
    if (capture.reference.empty())
        return std::nullopt;
    if (capture.reference.size() != capture.microphone.size())
        return Problem { "reference-length", "The reference is not as long as the microphone's channel", "",
                         "Record both in one file" };
    if (isSilent(capture.reference))
        return Problem { "silent-reference", "The reference channel is silent", "",
                         "Check the loopback cable and the channel chosen, or analyse without a reference" };
    return std::nullopt;
}

bool isClipped(std::span<const float> samples) noexcept
{
    constexpr float fullScale = 0.9995f;
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

std::vector<Fault> doubts(const Capture& capture)
{
    std::vector<Fault> found;
    if (isClipped(capture.microphone))
        found.push_back({ "microphone-clipped", Fault::Severity::doubt,
                          "The microphone's channel clipped: turn its gain down and take it again." });
    if (isClipped(capture.reference))
        found.push_back({ "reference-clipped", Fault::Severity::doubt,
                          "The loopback clipped: turn its gain down and take it again." });
    return found;
}

}
