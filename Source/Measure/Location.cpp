#include "Measure/Location.h"

#include "Core/Units.h"

#include "Measure/Deconvolution.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>

namespace plumbline
{

namespace
{

constexpr double blockSeconds = 0.005;
constexpr double mustRise = 5.0;       // over the median block
constexpr double mustGather = 0.25;    // share of a sweep's response that comes within 85 ms
constexpr double earlySeconds = 0.002; // a recording is placed so that its first arrival comes this late
constexpr double leastTailSeconds = 0.1;

/** Response of the whole recording to one sweep, as the largest |h| of each block, and where it is. */
struct Blocks
{
    std::vector<double> largest, energy;
    std::vector<std::ptrdiff_t> place;
    std::size_t size = 1;

    std::ptrdiff_t count() const { return static_cast<std::ptrdiff_t>(largest.size()); }

    double energyOf(std::ptrdiff_t from, std::ptrdiff_t to, double usual) const
    {
        double sum = 0.0;
        for (auto b = std::max<std::ptrdiff_t>(0, from); b < std::min(to, count()); ++b)
            sum += std::max(0.0, energy[static_cast<std::size_t>(b)] - usual);
        return sum;
    }

    double around(std::ptrdiff_t block) const
    {
        double most = 0.0;
        for (auto b = block - 2; b <= block + 2; ++b)
            if (b >= 0 && b < count())
                most = std::max(most, largest[static_cast<std::size_t>(b)]);
        return most;
    }
};

Blocks blocksOf(std::span<const float> recording, const Stimulus& stimulus)
{
    const double rate = stimulus.spec.sampleRateHz;
    const auto sweep = playedSweep(stimulus);
    const auto length = fastTransformLength(recording.size() + sweep.size());
    const PlayedSpectrum played(sweep, length);
    auto response = deconvolve(recording, played, rate, excitedRange(stimulus.sweep, stimulus.spec.band));
    response.inverseUnscaled();
    Blocks blocks;
    blocks.size = static_cast<std::size_t>(std::lround(blockSeconds * rate));
    for (std::size_t from = 0; from < recording.size(); from += blocks.size)
    {
        const auto* first = response.samples() + from;
        const auto* last = response.samples() + std::min(from + blocks.size, recording.size());
        const auto* peak =
            std::max_element(first, last, [](double a, double b) { return std::abs(a) < std::abs(b); });
        blocks.largest.push_back(std::abs(*peak));
        blocks.energy.push_back(std::inner_product(first, last, first, 0.0));
        blocks.place.push_back(peak - response.samples());
    }
    return blocks;
}

double median(std::vector<double> values)
{
    const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
    std::nth_element(values.begin(), middle, values.end());
    return *middle;
}

/** The first block of a response whose strongest one is near `about`: the direct sound may come before it. */
std::ptrdiff_t directSound(const Blocks& blocks, std::ptrdiff_t about)
{
    const double peak = blocks.around(about);
    for (auto b = std::max<std::ptrdiff_t>(0, about - 20); b < about; ++b)
        if (blocks.largest[static_cast<std::size_t>(b)] > 0.1 * peak)
            return b;
    return about;
}

/** True if the response is gathered about its beginning, as a room's is. The response of another sweep,
    divided by this one, is spread over half a second and more: two sweeps differ in their length by that at
    least. */
bool gathers(const Blocks& blocks, std::ptrdiff_t first)
{
    const double usual = median(blocks.energy);
    const auto blocksIn = [](double seconds) { return static_cast<std::ptrdiff_t>(seconds / blockSeconds); };
    const double near = blocks.energyOf(first - 1, first + blocksIn(0.085), usual);
    return near >= mustGather * blocks.energyOf(first - blocksIn(0.6), first + blocksIn(1.0), usual);
}

}

std::optional<std::ptrdiff_t> findStimulus(std::span<const float> recording, const Stimulus& stimulus)
{
    if (recording.size() < stimulus.sweep.samples)
        return std::nullopt;
    const auto blocks = blocksOf(recording, stimulus);
    const auto apart = stimulus.rightStart ? *stimulus.rightStart - stimulus.leftStart : 0;
    const auto blocksApart = static_cast<std::ptrdiff_t>(
        std::lround(static_cast<double>(apart) / static_cast<double>(blocks.size)));
    std::ptrdiff_t best = 0;
    double bestScore = 0.0;
    for (std::ptrdiff_t b = 0; b + blocksApart < blocks.count(); ++b)
    {
        const double here = blocks.largest[static_cast<std::size_t>(b)];
        const double score = apart == 0 ? here : std::min(here, blocks.around(b + blocksApart));
        if (score > bestScore)
            best = b, bestScore = score;
    }
    if (bestScore <= mustRise * median(blocks.largest))
        return std::nullopt;
    const auto first = directSound(blocks, best);
    if (!gathers(blocks, first) || (apart != 0 && !gathers(blocks, directSound(blocks, best + blocksApart))))
        return std::nullopt;
    return blocks.place[static_cast<std::size_t>(first)] - static_cast<std::ptrdiff_t>(stimulus.leftStart);
}

namespace
{

/** Several sums at a time, so that one addition need not wait for the one before. */
double energyOf(std::span<const float> samples) noexcept
{
    constexpr std::size_t lanes = 8;
    std::array<double, lanes> sums{};
    std::size_t i = 0;
    for (; i + lanes <= samples.size(); i += lanes)
        for (std::size_t lane = 0; lane < lanes; ++lane)
            sums[lane] += static_cast<double>(samples[i + lane]) * static_cast<double>(samples[i + lane]);
    for (; i < samples.size(); ++i)
        sums[0] += static_cast<double>(samples[i]) * static_cast<double>(samples[i]);
    return std::accumulate(sums.begin(), sums.end(), 0.0);
}

/** True if the reference holds next to nothing during the right sweep, against the left's. */
bool rightIsSilent(const Capture& capture, std::ptrdiff_t start)
{
    constexpr double silentBelow = 1e-3;
    const auto size = static_cast<std::ptrdiff_t>(capture.reference.size());
    auto during = [&](std::size_t from)
    {
        const auto begin = start + static_cast<std::ptrdiff_t>(from);
        const auto end = begin + static_cast<std::ptrdiff_t>(capture.stimulus.sweep.samples);
        const auto first = std::clamp<std::ptrdiff_t>(begin, 0, size),
                   last = std::clamp<std::ptrdiff_t>(end, first, size);
        return std::span(capture.reference.data() + first, capture.reference.data() + last);
    };
    const double enough = silentBelow * energyOf(during(capture.stimulus.leftStart));
    const auto right = during(*capture.stimulus.rightStart);
    constexpr std::size_t piece = 4096;
    double sum = 0.0;
    for (std::size_t from = 0; from < right.size() && sum < enough; from += piece)
        sum += energyOf(right.subspan(from, std::min(piece, right.size() - from)));
    return sum < enough || enough == 0.0;
}

/** How much later than played a live take's loopback began, less 20 ms: a host or an interface may delay the
    whole loop, and the time after a sweep is counted from when it came back. Seen where the reference first
    rises over a thousandth of its peak. */
std::ptrdiff_t referenceDelay(const Capture& capture)
{
    const auto begin = *capture.stimulusStart + static_cast<std::ptrdiff_t>(capture.stimulus.leftStart);
    if (capture.reference.empty() || begin < 0 ||
        begin >= static_cast<std::ptrdiff_t>(capture.reference.size()))
        return 0;
    const double seen = 1e-3 * amplitudeFromDecibels(capture.stimulus.spec.levelDbfs);
    const auto first = std::find_if(capture.reference.begin() + begin, capture.reference.end(),
                                    [&](float x) { return std::abs(x) > seen; });
    const auto late = first - capture.reference.begin() - begin;
    const auto slack = static_cast<std::ptrdiff_t>(0.020 * capture.stimulus.spec.sampleRateHz);
    return first == capture.reference.end() ? 0 : std::max<std::ptrdiff_t>(0, late - slack);
}

/** Finds the start in the reference where there is one, in the microphone otherwise. */
std::optional<std::ptrdiff_t> findStart(const Capture& capture)
{
    if (capture.reference.empty())
        return findStimulus(capture.microphone, capture.stimulus);
    if (auto both = findStimulus(capture.reference, capture.stimulus))
        return both;
    Stimulus leftAlone = capture.stimulus;
    leftAlone.rightStart.reset();
    return findStimulus(capture.reference, leftAlone);
}

std::optional<Problem> faultOfExtent(const Capture& capture, std::ptrdiff_t start)
{
    const auto& stimulus = capture.stimulus;
    const double rate = stimulus.spec.sampleRateHz;
    if (start + static_cast<std::ptrdiff_t>(stimulus.leftStart) < 0)
        return Problem{ "begins-late", "The recording begins after the left sweep had begun", "",
                        "Start recording before the stimulus is played" };
    const auto lastSweep = stimulus.totalSamples - stimulus.silenceSamples;
    const double needed =
        static_cast<double>(start) + static_cast<double>(lastSweep) + leastTailSeconds * rate;
    const double missing = (needed - static_cast<double>(capture.microphone.size())) / rate;
    if (missing > 0.0)
        return Problem{ "too-short",
                        "The recording is too short: it ends " +
                            std::to_string(std::lround(std::ceil(missing * 1000.0))) +
                            " ms before the last sweep's tail",
                        "", "Record until the stimulus has ended, or make one with a longer silence" };
    return std::nullopt;
}

}

Result<Placement> place(const Capture& capture)
{
    Placement placement;
    const double rate = capture.stimulus.spec.sampleRateHz;
    if (capture.stimulusStart)
        placement.stimulusStart = *capture.stimulusStart + referenceDelay(capture);
    else if (const auto found = findStart(capture))
        placement.stimulusStart = *found - std::lround(earlySeconds * rate);
    else if (capture.microphone.size() < capture.stimulus.totalSamples - capture.stimulus.leadInSamples)
        return Problem{
            "too-short",
            "The recording does not hold the whole stimulus: it begins too late or ends too early", "",
            "Record the whole stimulus, from before the left sweep to after the right one's tail"
        };
    else
        return Problem{ "not-this-stimulus", "The recording does not hold this stimulus", "",
                        "Give the stimulus file that was played, and check the channel chosen" };
    if (auto fault = faultOfExtent(capture, placement.stimulusStart))
        return *fault;
    placement.timeBaseKnown = capture.stimulusStart.has_value() || !capture.reference.empty();
    placement.referenceLeftOnly = !capture.reference.empty() && capture.stimulus.rightStart &&
                                  rightIsSilent(capture, placement.stimulusStart);
    return placement;
}

}
