#pragma once

#include "Measure/Sweep.h"

#include <optional>
#include <string>
#include <vector>

namespace plumbline
{

enum class Side
{
    left,
    right
};

/** What a stimulus is made from. */
struct StimulusSpec
{
    double sampleRateHz = 48000.0;
    double seconds = 5.0; ///< length of one sweep, 1..30
    Band band;
    double levelDbfs = -40.0;    ///< of the sweep's peak; at most `ceilingDbfs`
    double leadInSeconds = 1.0;  ///< silence first, in which the noise is learnt
    double silenceSeconds = 1.0; ///< after each sweep, at least 1: the longest decay that is kept whole
    bool pair = true;            ///< left, then right; otherwise left alone

    bool operator==(const StimulusSpec&) const = default;
};

/** No stimulus is ever louder than this, whatever is asked. */
inline constexpr double ceilingDbfs = -6.0;

/** The level at which every new session begins. */
inline constexpr double startLevelDbfs = -40.0;

/** One unbroken stream: lead-in, left sweep, silence, right sweep, silence. */
struct Stimulus
{
    StimulusSpec spec;
    Sweep sweep;
    std::size_t leadInSamples = 0;
    std::size_t silenceSamples = 0;
    std::size_t leftStart = 0;
    std::optional<std::size_t> rightStart;
    std::size_t totalSamples = 0;

    std::size_t start(Side side) const { return side == Side::left ? leftStart : rightStart.value(); }

    std::size_t sideCount() const noexcept { return rightStart ? 2 : 1; }

    /** From the first sample of a sweep to the end of the silence after it. */
    std::size_t segmentSamples() const noexcept { return sweep.samples + silenceSamples; }

    bool operator==(const Stimulus&) const = default;
};

/** Problems: those of designSweep, a level above the ceiling or not finite, silences out of range (0.1..10 s
    lead-in, 1..10 s after a sweep). */
Result<Stimulus> designStimulus(const StimulusSpec& spec);

/** The sweep as it is really played: scaled to the level and rounded to 32-bit float. Played for each side
    from its start; elsewhere the stream is silent. */
std::vector<float> playedSweep(const Stimulus& stimulus);

}
