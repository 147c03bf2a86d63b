#pragma once

// WAV files put together byte by byte, by the layout of the RIFF WAVE format (Microsoft and IBM, Multimedia
// Programming Interface and Data Specifications 1.0, 1991; WAVE_FORMAT_EXTENSIBLE as in mmreg.h).

#include "Dsp/Random.h"
#include "Files/WavFile.h"
#include "Support/TemporaryFolder.h"

#include <bit>
#include <catch2/catch.hpp>
#include <cstdint>
#include <limits>
#include <string>
#include <vector>

namespace plumbline::test
{

/** A number's lowest bytes, low one first. */
inline std::string le(std::uint64_t value, int bytes)
{
    std::string text;
    for (int i = 0; i < bytes; ++i)
        text += i < 8 ? static_cast<char>((value >> (8 * i)) & 0xff) : '\0';
    return text;
}

inline std::string chunk(const std::string& id, const std::string& body)
{
    return id + le(body.size(), 4) + body + std::string(body.size() % 2, '\0');
}

inline std::string riff(const std::string& chunks)
{
    return "RIFF" + le(chunks.size() + 4, 4) + "WAVE" + chunks;
}

/** Format tags: 1 integers, 3 floats, 6 A-law. */
inline std::string formatChunk(unsigned tag, unsigned channels, unsigned rate, unsigned bits)
{
    const unsigned frame = channels * bits / 8;
    return chunk("fmt ", le(tag, 2) + le(channels, 2) + le(rate, 4) + le(std::uint64_t{ rate } * frame, 4) +
                             le(frame, 2) + le(bits, 2));
}

/** Tag 0xFFFE, with the tag proper at the head of a GUID. */
inline std::string extensibleChunk(unsigned tag, unsigned channels, unsigned rate, unsigned bits)
{
    auto body = formatChunk(0xFFFE, channels, rate, bits).substr(8);
    body += le(22, 2) + le(bits, 2) + le(0, 4) + le(tag, 2);
    return chunk("fmt ", body + std::string("\x00\x00\x00\x00\x10\x00\x80\x00\x00\xAA\x00\x38\x9B\x71", 14));
}

inline std::string floatBytes(const std::vector<float>& interleaved)
{
    std::string bytes;
    for (const float value : interleaved)
        bytes += le(std::bit_cast<std::uint32_t>(value), 4);
    return bytes;
}

/** Every kind of float: zeros, denormals, infinities, NaNs with their payload, and random bits. */
inline std::vector<float> everyKindOfFloat(std::size_t count, std::uint64_t seed)
{
    using Limits = std::numeric_limits<float>;
    std::vector<float> values{ 0.0f,
                               -0.0f,
                               1.0f,
                               -1.0f,
                               Limits::min(),
                               Limits::max(),
                               Limits::denorm_min(),
                               Limits::infinity(),
                               -Limits::infinity(),
                               std::bit_cast<float>(0x7fc12345u),
                               std::bit_cast<float>(0xffc00001u) };
    Random random(seed);
    while (values.size() < count)
    {
        const auto bits = static_cast<std::uint32_t>(random.bits());
        const bool signalling = (bits & 0x7fc00000u) == 0x7f800000u; // an FPU may quieten these
        values.push_back(std::bit_cast<float>(signalling ? bits ^ 0x00400000u : bits));
    }
    values.resize(count);
    return values;
}

/** A folder to write a file to and read it back from. */
struct WavFolder
{
    TemporaryFolder folder;

    std::filesystem::path put(const std::string& bytes) const
    {
        const auto file = folder / "a.wav";
        writeBytes(file, bytes);
        return file;
    }

    Result<WavAudio> read(const std::string& bytes) const { return readWav(put(bytes)); }

    /** Code of the refusal, after its sentence was seen to name the file; "read" if it was not refused. */
    std::string refusal(const std::string& bytes) const
    {
        const auto audio = read(bytes);
        if (audio)
            return "read";
        CHECK(audio.problem().where == (folder / "a.wav").string());
        CHECK(audio.problem().what.size() > 10);
        CHECK_FALSE(audio.problem().remedy.empty());
        return audio.problem().code;
    }
};

/** Four frames of two channels. */
inline const std::vector<float> fourFrames{ 0.5f, -0.25f, 0.125f, 1.0f, -1.0f, 0.75f, 0.0f, -0.5f };

}
