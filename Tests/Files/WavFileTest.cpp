// What could pass here for the wrong reason: our own writer and reader agreeing on a wrong byte. So the
// files here are put together byte by byte, by the layout of the RIFF WAVE format (Microsoft and IBM,
// Multimedia Programming Interface and Data Specifications 1.0, 1991; WAVE_FORMAT_EXTENSIBLE as in mmreg.h),
// and our writer's are taken apart the same way.

#include "Files/WavFile.h"

#include "Support/WavBytes.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <cstring>

using namespace plumbline;
using namespace plumbline::test;

namespace
{

std::uint64_t fromLe(const std::string& bytes, std::size_t at, int count)
{
    std::uint64_t value = 0;
    for (int i = count - 1; i >= 0; --i)
        value = (value << 8) | static_cast<unsigned char>(bytes.at(at + static_cast<std::size_t>(i)));
    return value;
}

std::string integerBytes(const std::vector<std::int64_t>& interleaved, int bytesEach)
{
    std::string bytes;
    for (const auto value : interleaved)
        bytes += le(static_cast<std::uint64_t>(value), bytesEach);
    return bytes;
}

bool sameBits(const std::vector<float>& a, const std::vector<float>& b)
{
    return a.size() == b.size() && std::memcmp(a.data(), b.data(), a.size() * sizeof(float)) == 0;
}

}

TEST_CASE("Floats written come back bit for bit, whatever they are")
{
    const WavFolder wav;
    for (const std::size_t channels : { 1u, 2u, 3u, 8u })
        for (const std::size_t length : { 1u, 11u, 5000u })
        {
            WavAudio audio;
            audio.sampleRateHz = channels == 3 ? 192000.0 : 44100.0;
            for (std::size_t c = 0; c < channels; ++c)
                audio.channels.push_back(everyKindOfFloat(length, 100 * channels + c));
            const auto back = wav.read(floatWavBytes(audio));
            REQUIRE(back);
            CHECK(back->sampleRateHz == audio.sampleRateHz);
            REQUIRE(back->channels.size() == channels);
            for (std::size_t c = 0; c < channels; ++c)
                CHECK(sameBits(back->channels[c], audio.channels[c]));
        }
}

TEST_CASE("The written bytes are a RIFF WAVE of 32-bit floats that any program reads")
{
    const WavAudio audio{ 96000.0, { { 0.5f, 0.125f, -1.0f }, { -0.25f, 1.0f, 0.75f } } };
    const auto bytes = floatWavBytes(audio);
    REQUIRE(bytes.substr(0, 4) == "RIFF");
    REQUIRE(bytes.substr(8, 4) == "WAVE");
    CHECK(fromLe(bytes, 4, 4) == bytes.size() - 8);
    bool formatSeen = false, dataSeen = false;
    for (std::size_t at = 12; at + 8 <= bytes.size();)
    {
        const auto id = bytes.substr(at, 4);
        const auto size = fromLe(bytes, at + 4, 4);
        at += 8;
        if (id == "fmt ")
        {
            formatSeen = true;
            const auto tag = fromLe(bytes, at, 2);
            CHECK((tag == 3 || (tag == 0xFFFE && size >= 40 && fromLe(bytes, at + 24, 2) == 3)));
            CHECK(fromLe(bytes, at + 2, 2) == 2);
            CHECK(fromLe(bytes, at + 4, 4) == 96000);
            CHECK(fromLe(bytes, at + 8, 4) == 96000 * 8);
            CHECK(fromLe(bytes, at + 12, 2) == 8);
            CHECK(fromLe(bytes, at + 14, 2) == 32);
        }
        if (id == "data")
        {
            dataSeen = true;
            CHECK(formatSeen);
            CHECK(bytes.substr(at, size) == floatBytes({ 0.5f, -0.25f, 0.125f, 1.0f, -1.0f, 0.75f }));
        }
        at += size + size % 2;
    }
    CHECK(dataSeen);
}

TEST_CASE("Floats from another program come bit for bit, NaN and infinity too")
{
    const WavFolder wav;
    const auto values = everyKindOfFloat(600, 7);
    const auto audio = wav.read(riff(formatChunk(3, 1, 48000, 32) + chunk("data", floatBytes(values))));
    REQUIRE(audio);
    REQUIRE(audio->channels.size() == 1);
    CHECK(sameBits(audio->channels[0], values));
    CHECK(std::isnan(audio->channels[0][9]));
}

TEST_CASE("Integers of 16, 24 and 32 bits are scaled so that full scale is 1")
{
    const WavFolder wav;
    for (const int bits : { 16, 24, 32 })
        for (const bool extensible : { false, true })
        {
            const auto full = std::int64_t{ 1 } << (bits - 1);
            const std::vector<std::int64_t> left{ -full, full - 1, 0, 1, -1, full / 2, 12345 };
            const std::vector<std::int64_t> right{ 3, -full / 4, full - 1, -full, 77, -2, 0 };
            std::vector<std::int64_t> interleaved;
            for (std::size_t i = 0; i < left.size(); ++i)
                interleaved.insert(interleaved.end(), { left[i], right[i] });
            const auto depth = static_cast<unsigned>(bits);
            const auto format =
                extensible ? extensibleChunk(1, 2, 44100, depth) : formatChunk(1, 2, 44100, depth);
            const auto audio = wav.read(riff(format + chunk("data", integerBytes(interleaved, bits / 8))));
            INFO(bits << " bits, extensible: " << extensible);
            REQUIRE(audio);
            CHECK(audio->sampleRateHz == 44100.0);
            REQUIRE(audio->channels.size() == 2);
            REQUIRE(audio->length() == left.size());
            for (std::size_t i = 0; i < left.size(); ++i)
            {
                const double fullScale = static_cast<double>(full);
                CHECK(audio->channels[0][i] == static_cast<float>(static_cast<double>(left[i]) / fullScale));
                CHECK(audio->channels[1][i] == static_cast<float>(static_cast<double>(right[i]) / fullScale));
            }
        }
}

TEST_CASE("Extensible floats are read like plain ones")
{
    const auto audio =
        WavFolder().read(riff(extensibleChunk(3, 2, 88200, 32) + chunk("data", floatBytes(fourFrames))));
    REQUIRE(audio);
    CHECK(audio->sampleRateHz == 88200.0);
    CHECK(audio->channels ==
          std::vector<std::vector<float>>{ { 0.5f, 0.125f, -1.0f, 0.0f }, { -0.25f, 1.0f, 0.75f, -0.5f } });
}

TEST_CASE("Chunks of other kinds, of odd length too, may stand before and after the samples")
{
    const auto odd = chunk("JUNK", std::string(13, 'j')) +
                     chunk("LIST", "INFOISFT" + le(5, 4) + std::string("Heron\0", 6)) +
                     chunk("bext", std::string(602, '\0')) + chunk("Zz9 ", "x");
    const auto after = chunk("cue ", le(1, 4) + std::string(24, '\0')) + chunk("tail", "abc");
    const auto format = formatChunk(3, 2, 48000, 32), data = chunk("data", floatBytes(fourFrames));
    for (const auto& chunks : { odd + format + data, format + odd + data, format + data + after,
                                odd + format + odd + data + after })
    {
        const auto audio = WavFolder().read(riff(chunks));
        REQUIRE(audio);
        CHECK(audio->channels == std::vector<std::vector<float>>{ { 0.5f, 0.125f, -1.0f, 0.0f },
                                                                  { -0.25f, 1.0f, 0.75f, -0.5f } });
    }
}

TEST_CASE("A 64-bit file (RF64), whose sizes stand in a chunk of their own, is read")
{
    // EBU Tech 3306: RIFF and data say 0xFFFFFFFF; ds64 holds the sizes of RIFF and data, the count of
    // samples and the length of a table.
    const auto data = floatBytes(fourFrames);
    const auto sizes = chunk("ds64", le(100, 8) + le(data.size(), 8) + le(4, 8) + le(0, 4));
    const auto file = "RF64" + le(0xFFFFFFFF, 4) + "WAVE" + sizes + formatChunk(3, 2, 48000, 32) + "data" +
                      le(0xFFFFFFFF, 4) + data;
    const WavFolder wav;
    const auto audio = wav.read(file);
    REQUIRE(audio);
    CHECK(audio->channels ==
          std::vector<std::vector<float>>{ { 0.5f, 0.125f, -1.0f, 0.0f }, { -0.25f, 1.0f, 0.75f, -0.5f } });
    CHECK(wav.refusal(file.substr(0, file.size() - 8)) == "cut-short");
}
