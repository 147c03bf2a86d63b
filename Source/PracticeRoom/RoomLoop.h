#pragma once

#include "PracticeRoom/LookAheadConvolver.h"
#include "PracticeRoom/RoomNoise.h"

#include <array>
#include <optional>
#include <vector>

namespace plumbline
{

/** Closes the loop between the program's outputs and its microphone, block by block, exactly:

    microphone[n] = sum over both sides of taps * played + noise, reference[n] = referenceTaps * (left +
    right), each rounded to float once. What comes out does not depend on how the stream is cut into blocks,
    to the last bit. */
class RoomLoop
{
public:
    struct Noise
    {
        double levelDbfs = -90.0; ///< 20 lg of the rms
        MicrophoneModel::NoiseColour colour = MicrophoneModel::NoiseColour::pink;
    };

    struct Spec
    {
        std::array<std::vector<double>, 2> taps; ///< left, right: beginning with a zero or empty (silent)
        std::vector<double> referenceTaps;       ///< the same of the loopback; empty: there is none
        std::optional<Noise> noise;
        double sampleRateHz = 48000.0;
    };

    /** [any but audio] All memory is taken here. */
    RoomLoop(const Spec& spec, Random noiseSource);

    /** [audio] One block: `played[0]`, `played[1]` are what left the outputs, `microphone` and `reference`
        what comes in during the same frames. Any number of frames from 0; no allocation, no lock. */
    void process(const float* const* played, int frames, float* microphone, float* reference) noexcept;

    /** Samples that the room is worked out in at a time; 512 unless latency and travel are shorter. */
    std::size_t partition() const noexcept { return room.partition(); }

private:
    static constexpr std::size_t stretch = 256;

    void processStretch(const float* left, const float* right, std::size_t count, float* microphone,
                        float* reference) noexcept;
    void refer(std::size_t count, float* reference) noexcept;

    LookAheadConvolver room;
    std::optional<LookAheadConvolver> shapedReference;
    std::vector<double> delayLine; ///< for a reference that is a pure delay of gain 1
    std::size_t delayPlace = 0;
    std::optional<RoomNoise> noise;
    std::array<double, stretch> left{}, right{}, both{}, heard{};
};

}
