#pragma once

#include <cstddef>
#include <optional>
#include <vector>

namespace plumbline
{

/** Why a take ended before its time. */
enum class StopCause
{
    none,
    asked,         ///< Stop, Escape
    windowClosed,  ///< the window of a take that it had started was closed
    overload,      ///< the Return reached full scale
    runaway,       ///< the Return grew by itself
    notFinite,     ///< the Return held values that are not numbers
    noReturn,      ///< no side-chain is connected
    streamChanged, ///< sample rate, layout or block size were set anew
    hostStopped,   ///< the host stopped calling
    offlineRender  ///< the host renders a file
};

/** All memory of one take, made by the analysis thread, lent to the audio thread, and handed back whole. */
struct TakeJob
{
    /** The sweep at its level, played from each start. */
    std::vector<float> sweep;
    std::size_t leftStart = 0;
    std::optional<std::size_t> rightStart;
    std::size_t totalSamples = 0;
    double sampleRateHz = 48000.0;
    float ceiling = 0.5f;  ///< no sample leaves louder than this, whatever the sweep holds
    bool practice = false; ///< the stimulus goes to the practice room and is not to be heard

    /** Filled while the take runs; both of totalSamples. */
    std::vector<float> microphone, reference;
    std::size_t recorded = 0;
    bool referenceConnected = false; ///< the Return had a second channel
    StopCause cause = StopCause::none;

    bool complete() const noexcept { return cause == StopCause::none && recorded == totalSamples; }

    /** True where nothing is being played at a sample of the stream. */
    bool silentAt(std::size_t position) const noexcept
    {
        auto within = [&](std::size_t start) { return position >= start && position < start + sweep.size(); };
        return !within(leftStart) && !(rightStart && within(*rightStart));
    }
};

}
