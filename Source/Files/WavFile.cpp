#include "Files/WavFile.h"

#include "Files/Json.h"

#include <array>
#include <bit>
#include <cmath>
#include <cstdint>
#include <cstring>
#include <fstream>
#include <juce_audio_formats/juce_audio_formats.h>
#include <optional>
#include <string_view>

namespace plumbline
{

namespace fs = std::filesystem;

// Reading is our own, and strict: a recording may come from anywhere, and readers that look into every kind
// of chunk can be led astray by a damaged one. Only "fmt " and "data" are looked at; the rest is stepped over
// by its stated length.

namespace
{

constexpr std::size_t mostBytes = std::size_t{ 3 } << 29; // ten minutes of two channels at 192 kHz, and some
constexpr double mostSeconds = 600.0;

Problem refused(const fs::path& file, const char* code, const std::string& what, const std::string& remedy)
{
    return { code, what, file.string(), remedy };
}

/** Bytes read little end first. */
class Bytes
{
public:
    explicit Bytes(const std::string& content) : all(content) {}

    std::size_t size() const { return all.size(); }

    bool has(std::size_t at, std::size_t count) const { return at <= all.size() && count <= all.size() - at; }

    bool says(std::size_t at, const char* four) const
    {
        return has(at, 4) && std::memcmp(all.data() + at, four, 4) == 0;
    }

    std::uint32_t number(std::size_t at, std::size_t bytes) const
    {
        std::uint32_t value = 0;
        for (std::size_t i = 0; i < bytes; ++i)
            value |= static_cast<std::uint32_t>(static_cast<unsigned char>(all[at + i])) << (8 * i);
        return value;
    }

private:
    const std::string& all;
};

struct Format
{
    bool floating = false;
    std::size_t channels = 0, bytesPerSample = 0;
    double sampleRateHz = 0.0;

    std::size_t frame() const { return channels * bytesPerSample; }
};

/** The "fmt " chunk; nothing if this is no kind of sound that is read here. */
std::optional<Format> formatAt(const Bytes& bytes, std::size_t at, std::size_t length)
{
    constexpr std::uint32_t integers = 1, floats = 3, extensible = 0xFFFE;
    if (length < 16)
        return std::nullopt;
    std::uint32_t tag = bytes.number(at, 2);
    if (tag == extensible && length >= 26)
        tag = bytes.number(at + 24, 2);
    Format format;
    format.floating = tag == floats;
    format.channels = bytes.number(at + 2, 2);
    format.sampleRateHz = bytes.number(at + 4, 4);
    format.bytesPerSample = bytes.number(at + 14, 2) / 8;
    const bool bitsFit =
        bytes.number(at + 14, 2) % 8 == 0 &&
        (format.floating ? format.bytesPerSample == 4
                         : tag == integers && format.bytesPerSample >= 2 && format.bytesPerSample <= 4);
    const bool sound = bitsFit && format.channels >= 1 && format.channels <= 256 &&
                       format.sampleRateHz >= 1.0 && bytes.number(at + 12, 2) == format.frame();
    return sound ? std::optional(format) : std::nullopt;
}

float sampleAt(const Bytes& bytes, std::size_t at, const Format& format)
{
    const auto raw = bytes.number(at, format.bytesPerSample);
    if (format.floating)
        return std::bit_cast<float>(raw);
    // Moved to the top of 32 bits, so that the sign is in its place.
    const auto top = static_cast<std::int32_t>(raw << (32 - 8 * format.bytesPerSample));
    return static_cast<float>(static_cast<double>(top) / 2147483648.0);
}

WavAudio decoded(const Bytes& bytes, std::size_t at, std::size_t frames, const Format& format)
{
    WavAudio audio;
    audio.sampleRateHz = format.sampleRateHz;
    audio.channels.assign(format.channels, std::vector<float>(frames));
    for (std::size_t n = 0; n < frames; ++n)
        for (std::size_t c = 0; c < format.channels; ++c)
            audio.channels[c][n] =
                sampleAt(bytes, at + n * format.frame() + c * format.bytesPerSample, format);
    return audio;
}

Problem notAWav(const fs::path& file)
{
    return refused(file, "not-a-wav", "This is not a WAV file that can be read",
                   "Give a WAV of 16, 24 or 32-bit integers or 32-bit floats");
}

Result<WavAudio> decode(const Bytes& bytes, const fs::path& file)
{
    const auto cutShort =
        refused(file, "cut-short", "The WAV file is cut short: its header promises more than it holds",
                "Export or copy it again");
    const bool large =
        bytes.says(0, "RF64"); // EBU Tech 3306: a chunk "ds64" first holds the sizes in 64 bits
    if (!(large || bytes.says(0, "RIFF")) || !bytes.says(8, "WAVE"))
        return notAWav(file);
    const bool sizesThere = large && bytes.says(12, "ds64") && bytes.has(20, 28);
    const std::size_t largeData =
        sizesThere ? bytes.number(28, 4) | std::size_t{ bytes.number(32, 4) } << 32 : 0;
    std::optional<Format> format;
    std::size_t at = 12;
    while (bytes.has(at, 8) && !bytes.says(at, "data"))
    {
        const std::size_t length = bytes.number(at + 4, 4);
        if (!bytes.has(at + 8, length))
            return cutShort;
        if (bytes.says(at, "fmt "))
            format = formatAt(bytes, at + 8, length);
        at += 8 + length + length % 2;
    }
    const auto empty = refused(file, "empty", "The WAV file holds no samples", "Record it again");
    if (!format)
        return notAWav(file);
    if (!bytes.has(at, 8))
        return at == bytes.size() ? empty : cutShort;
    const std::size_t stated = bytes.number(at + 4, 4);
    const std::size_t length = large && stated == 0xFFFFFFFF ? largeData : stated;
    if (!bytes.has(at + 8, length))
        return cutShort;
    const auto frames = length / format->frame();
    if (frames == 0)
        return empty;
    if (static_cast<double>(frames) > mostSeconds * format->sampleRateHz)
        return refused(file, "too-long", "The recording is longer than ten minutes",
                       "Cut it to one playing of the stimulus");
    return decoded(bytes, at + 8, frames, *format);
}

}

namespace
{
/** Looked at before a large file is read whole. */
bool beginsLikeAWav(const fs::path& file)
{
    std::array<char, 12> head{};
    std::ifstream stream(file, std::ios::binary);
    stream.read(head.data(), head.size());
    const std::string_view text(head.data(), head.size());
    return text.substr(8) == "WAVE" && (text.starts_with("RIFF") || text.starts_with("RF64"));
}
}

Result<WavAudio> readWav(const fs::path& file)
{
    std::error_code error;
    if (fs::is_regular_file(file, error) && std::ifstream(file).good() && !beginsLikeAWav(file))
        return notAWav(file);
    const auto content = readTextFile(file, mostBytes);
    if (!content)
        return content.problem();
    return decode(Bytes(*content), file);
}

std::string floatWavBytes(const WavAudio& audio)
{
    juce::MemoryBlock block;
    juce::WavAudioFormat format;
    {
        auto stream = std::make_unique<juce::MemoryOutputStream>(block, false);
        const std::unique_ptr<juce::AudioFormatWriter> writer(format.createWriterFor(
            stream.get(), audio.sampleRateHz, static_cast<unsigned>(audio.channels.size()), 32, {}, 0));
        jassert(writer != nullptr);
        stream.release(); // the writer owns it now
        std::vector<const float*> channels;
        for (const auto& channel : audio.channels)
            channels.push_back(channel.data());
        writer->writeFromFloatArrays(channels.data(), static_cast<int>(channels.size()),
                                     static_cast<int>(audio.length()));
    }
    return { static_cast<const char*>(block.getData()), block.getSize() };
}

}
