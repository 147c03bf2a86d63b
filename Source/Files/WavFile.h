#pragma once

#include "Core/Result.h"

#include <filesystem>
#include <vector>

namespace plumbline
{

/** Sound as channels of samples, full scale 1. */
struct WavAudio
{
    double sampleRateHz = 0.0;
    std::vector<std::vector<float>> channels; ///< equally long

    std::size_t length() const noexcept { return channels.empty() ? 0 : channels.front().size(); }
};

/** Reads a WAV file: 16, 24 or 32-bit integer or 32-bit float. Integers are scaled so that full scale is 1.
    Problems: a folder, missing, not a WAV, cut short, empty, longer than ten minutes. */
Result<WavAudio> readWav(const std::filesystem::path& file);

/** The bytes of a 32-bit float WAV. Exact: what is read back is bit-equal. */
std::string floatWavBytes(const WavAudio& audio);

}
