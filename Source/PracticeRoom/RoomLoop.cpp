#include "PracticeRoom/RoomLoop.h"

#include <algorithm>

namespace plumbline
{

namespace
{
/** True if the taps are zeros and a last one of 1. */
bool isPureDelay(const std::vector<double>& taps)
{
    return !taps.empty() && taps.back() == 1.0 &&
           std::all_of(taps.begin(), taps.end() - 1, [](double tap) { return tap == 0.0; });
}
}

RoomLoop::RoomLoop(const Spec& spec, Random noiseSource) : room({ spec.taps[0], spec.taps[1] })
{
    if (isPureDelay(spec.referenceTaps))
        delayLine.assign(spec.referenceTaps.size() - 1, 0.0);
    else if (!spec.referenceTaps.empty())
        shapedReference.emplace(std::vector<std::vector<double>>{ spec.referenceTaps });
    if (spec.noise)
        noise.emplace(spec.noise->colour, spec.noise->levelDbfs, spec.sampleRateHz, noiseSource);
}

void RoomLoop::process(const float* const* played, int frames, float* microphone, float* reference) noexcept
{
    const auto total = static_cast<std::size_t>(std::max(0, frames));
    for (std::size_t done = 0; done < total; done += stretch)
        processStretch(played[0] + done, played[1] + done, std::min(stretch, total - done), microphone + done,
                       reference + done);
}

void RoomLoop::processStretch(const float* playedLeft, const float* playedRight, std::size_t count,
                              float* microphone, float* reference) noexcept
{
    for (std::size_t i = 0; i < count; ++i)
    {
        left[i] = static_cast<double>(playedLeft[i]);
        right[i] = static_cast<double>(playedRight[i]);
        both[i] = left[i] + right[i];
    }
    const std::array<const double*, 2> sides{ left.data(), right.data() };
    room.process(sides.data(), count, heard.data());
    if (noise)
        for (std::size_t i = 0; i < count; ++i)
            heard[i] += noise->next();
    for (std::size_t i = 0; i < count; ++i)
        microphone[i] = static_cast<float>(heard[i]);
    refer(count, reference);
}

void RoomLoop::refer(std::size_t count, float* reference) noexcept
{
    if (shapedReference)
    {
        const double* in = both.data();
        shapedReference->process(&in, count, heard.data());
    }
    else if (!delayLine.empty())
        for (std::size_t i = 0; i < count; ++i)
        {
            heard[i] = delayLine[delayPlace];
            delayLine[delayPlace] = both[i];
            delayPlace = delayPlace + 1 == delayLine.size() ? 0 : delayPlace + 1;
        }
    else
        std::fill_n(heard.begin(), count, 0.0);
    for (std::size_t i = 0; i < count; ++i)
        reference[i] = static_cast<float>(heard[i]);
}

}
