// What could pass here for the wrong reason: our own writer and reader agreeing on a wrong byte. So the
// files here are put together byte by byte, by the layout of the RIFF WAVE format (Microsoft and IBM,
// Multimedia Programming Interface and Data Specifications 1.0, 1991; WAVE_FORMAT_EXTENSIBLE as in mmreg.h),
// and our writer's are taken apart the same way. A damaged file that is refused for another damage than its
// own: each one differs from a good file in one thing, and the code of the refusal is looked at.

#include "Files/WavFile.h"

#include "Dsp/Random.h"
#include "Support/ChildProcess.h"
#include "Support/Damage.h"
#include "Support/TemporaryFolder.h"

#include <bit>
#include <catch2/catch.hpp>
#include <cmath>
#include <cstring>
#include <limits>
#include <unistd.h>

using namespace plumbline;
using namespace plumbline::test;

namespace
{

/** A number's lowest bytes, low one first. */
std::string le(std::uint64_t value, int bytes)
{
    std::string text;
    for (int i = 0; i < bytes; ++i)
        text += i < 8 ? static_cast<char>((value >> (8 * i)) & 0xff) : '\0';
    return text;
}

std::uint64_t fromLe(const std::string& bytes, std::size_t at, int count)
{
    std::uint64_t value = 0;
    for (int i = count - 1; i >= 0; --i)
        value = (value << 8) | static_cast<unsigned char>(bytes.at(at + static_cast<std::size_t>(i)));
    return value;
}

std::string chunk(const std::string& id, const std::string& body)
{
    return id + le(body.size(), 4) + body + std::string(body.size() % 2, '\0');
}

std::string riff(const std::string& chunks)
{
    return "RIFF" + le(chunks.size() + 4, 4) + "WAVE" + chunks;
}

/** Format tags: 1 integers, 3 floats, 6 A-law. */
std::string formatChunk(unsigned tag, unsigned channels, unsigned rate, unsigned bits)
{
    const unsigned frame = channels * bits / 8;
    return chunk("fmt ", le(tag, 2) + le(channels, 2) + le(rate, 4) + le(std::uint64_t{ rate } * frame, 4) +
                             le(frame, 2) + le(bits, 2));
}

/** Tag 0xFFFE, with the tag proper at the head of a GUID. */
std::string extensibleChunk(unsigned tag, unsigned channels, unsigned rate, unsigned bits)
{
    auto body = formatChunk(0xFFFE, channels, rate, bits).substr(8);
    body += le(22, 2) + le(bits, 2) + le(0, 4) + le(tag, 2);
    return chunk("fmt ", body + std::string("\x00\x00\x00\x00\x10\x00\x80\x00\x00\xAA\x00\x38\x9B\x71", 14));
}

std::string floatBytes(const std::vector<float>& interleaved)
{
    std::string bytes;
    for (const float value : interleaved)
        bytes += le(std::bit_cast<std::uint32_t>(value), 4);
    return bytes;
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

/** Every kind of float: zeros, denormals, infinities, NaNs with their payload, and random bits. */
std::vector<float> everyKindOfFloat(std::size_t count, std::uint64_t seed)
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

const std::vector<float> fourFrames{ 0.5f, -0.25f, 0.125f, 1.0f, -1.0f, 0.75f, 0.0f, -0.5f };

std::string goodFile()
{
    return riff(formatChunk(3, 2, 48000, 32) + chunk("data", floatBytes(fourFrames)));
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

TEST_CASE("A file cut short in its header is refused, wherever it was cut")
{
    const WavFolder wav;
    const auto good = goodFile();
    REQUIRE(wav.read(good));
    REQUIRE(good.size() == 44 + 32);
    for (std::size_t length = 0; length < 44; ++length)
    {
        INFO("cut to " << length << " bytes");
        const auto code = wav.refusal(good.substr(0, length));
        CHECK(code != "read");
    }
}

TEST_CASE("A file cut short in its samples is refused as cut short, wherever it was cut")
{
    const WavFolder wav;
    const auto good = goodFile();
    std::string others;
    for (std::size_t length = 44; length < good.size(); ++length)
        if (const auto code = wav.refusal(good.substr(0, length)); code != "cut-short")
            others += std::to_string(length) + " bytes: " + code + "; ";
    CHECK(others == "");
}

TEST_CASE("A file cut short behind a long chunk of another kind is refused as cut short")
{
    const WavFolder wav;
    const auto good = riff(chunk("JUNK", std::string(4000, 'j')) + formatChunk(3, 2, 48000, 32) +
                           chunk("data", floatBytes(everyKindOfFloat(2000, 3))));
    REQUIRE(wav.read(good));
    CHECK(wav.refusal(good.substr(0, good.size() - 8)) == "cut-short");
    CHECK(wav.refusal(good.substr(0, good.size() - 3600)) == "cut-short");
}

TEST_CASE("A header that promises the largest size is refused as cut short, not believed")
{
    CHECK(WavFolder().refusal(riff(formatChunk(3, 2, 48000, 32) + "data" + le(0xFFFFFFFF, 4) +
                                   floatBytes(fourFrames))) == "cut-short");
}

TEST_CASE("A file without samples is refused as empty")
{
    CHECK(WavFolder().refusal(riff(formatChunk(3, 2, 48000, 32) + chunk("data", ""))) == "empty");
    CHECK(WavFolder().refusal(riff(formatChunk(3, 2, 48000, 32))) == "empty");
}

TEST_CASE("What is no WAV of ours is refused in words")
{
    const WavFolder wav;
    const auto data = chunk("data", floatBytes(fourFrames));
    CHECK(wav.refusal("") == "not-a-wav");
    CHECK(wav.refusal("Frequency, level\n20, 0.5\n") == "not-a-wav");
    CHECK(wav.refusal(std::string(5000, '\0')) == "not-a-wav");
    CHECK(wav.refusal(riff(data)) == "not-a-wav");                                // no fmt
    CHECK(wav.refusal(riff(formatChunk(3, 2, 0, 32) + data)) == "not-a-wav");     // no rate
    CHECK(wav.refusal(riff(formatChunk(3, 0, 48000, 32) + data)) == "not-a-wav"); // no channel
    CHECK(wav.refusal("RIFX" + goodFile().substr(4)) == "not-a-wav");
    CHECK(wav.refusal(goodFile().replace(8, 4, "AVI ")) == "not-a-wav");
    CHECK(wav.refusal(riff(formatChunk(6, 2, 8000, 8) + data)) != "read"); // A-law
}

TEST_CASE("Sample formats that are not read are refused, never read as something else")
{
    const WavFolder wav;
    const auto data = chunk("data", std::string(9600, '\x40'));
    CHECK(wav.refusal(riff(formatChunk(3, 2, 48000, 64) + data)) != "read"); // 64-bit floats
    CHECK(wav.refusal(riff(extensibleChunk(3, 2, 48000, 64) + data)) != "read");
    CHECK(wav.refusal(riff(formatChunk(1, 2, 48000, 64) + data)) != "read");
    CHECK(wav.refusal(riff(formatChunk(1, 2, 48000, 12) + data)) != "read");
    CHECK(wav.refusal(riff(formatChunk(3, 2, 48000, 24) + data)) != "read"); // there are no 24-bit floats
    CHECK(wav.refusal(riff(formatChunk(3, 2, 48000, 16) + data)) != "read"); // nor 16-bit ones here
}

TEST_CASE("A folder, a missing file and a device in place of a file are refused")
{
    const TemporaryFolder folder;
    CHECK(readWav(folder.path()).problem().code == "is-a-folder");
    CHECK(readWav(folder / "none.wav").problem().code == "missing");
    CHECK(readWav(folder / "none.wav").problem().where == (folder / "none.wav").string());
    CHECK_FALSE(readWav("/dev/null"));
}

TEST_CASE("A file that may not be read is refused in words")
{
    const TemporaryFolder folder;
    writeBytes(folder / "a.wav", goodFile());
    std::filesystem::permissions(folder.path(),
                                 std::filesystem::perms::owner_all | std::filesystem::perms::others_all);
    std::filesystem::permissions(folder / "a.wav", std::filesystem::perms::none);
    const auto end = runInChild(
        [&]
        {
            if (geteuid() == 0 && seteuid(65534) != 0)
                return 2;
            return readWav(folder / "a.wav") ? 1 : 0;
        });
    CHECK(end.words() == "exit 0");
}

TEST_CASE("A recording longer than ten minutes is refused before it is read")
{
    const WavFolder wav;
    const std::uint32_t tenMinutes = 600 * 8000 * 2;
    const auto header = [](std::uint32_t bytes)
    { return "RIFF" + le(bytes + 36, 4) + "WAVE" + formatChunk(1, 1, 8000, 16) + "data" + le(bytes, 4); };
    for (const std::uint32_t more : { 0u, 2u })
    {
        const auto file = wav.put(header(tenMinutes + more));
        std::filesystem::resize_file(file, 44 + tenMinutes + more);
        const auto audio = readWav(file);
        CHECK(audio.ok() == (more == 0));
        if (!audio)
            CHECK(audio.problem().code == "too-long");
    }
}

TEST_CASE("A file that claims thousands of channels comes to an end")
{
    const WavFolder wav;
    const auto file =
        wav.put(riff(formatChunk(3, 2000, 48000, 32) + chunk("data", std::string(2000 * 4 * 3, '\0'))));
    const auto end = runInChild(
        [&]
        {
            const auto audio = readWav(file);
            return !audio || (audio->channels.size() == 2000 && audio->length() == 3) ? 0 : 1;
        },
        5);
    CHECK(end.words() == "exit 0");
}

TEST_CASE("A file cut short in its list of markers comes to an end, wherever it was cut")
{
    const WavFolder wav;
    const auto label = "labl" + le(10, 4) + le(1, 4) + "Heron6";
    const auto list = chunk("LIST", "adtl" + label + label + label);
    const auto whole = riff(formatChunk(3, 2, 48000, 32) + chunk("data", floatBytes(fourFrames)) + list);
    REQUIRE(wav.read(whole));
    const auto end = runInChild(
        [&]
        {
            for (std::size_t missing = 1; missing <= list.size(); ++missing)
                static_cast<void>(readWav(wav.put(whole.substr(0, whole.size() - missing))));
            return 0;
        },
        5);
    CHECK(end.words() == "exit 0");
}

namespace
{
/** A file with many kinds of chunk, and samples enough for a wrong channel count to matter. */
std::string richFile()
{
    const auto label = "labl" + le(10, 4) + le(1, 4) + "Heron6";
    const auto region = "ltxt" + le(24, 4) + le(1, 4) + std::string(16, '\0') + "Tarn";
    return riff(formatChunk(3, 2, 48000, 32) + chunk("bext", std::string(602, 'b')) +
                chunk("smpl", le(0, 28) + le(1, 4) + le(0, 4) + std::string(24, '\1')) +
                chunk("inst", "abcdefg") + chunk("cue ", le(1, 4) + std::string(24, '\0')) +
                chunk("LIST", "INFOISFT" + le(6, 4) + "Heron6") + chunk("LIST", "adtl" + label + region) +
                chunk("acid", std::string(24, '\2')) + chunk("data", floatBytes(everyKindOfFloat(4000, 5))));
}

DamageReport readDamagedWavs(std::size_t count, unsigned limitSeconds)
{
    const WavFolder wav;
    REQUIRE(wav.read(richFile()));
    return takeDamagedCopies(
        richFile(), count,
        [&](const std::string& bytes)
        {
            const auto audio = readWav(wav.put(bytes));
            for (std::size_t c = 0; audio && c < audio->channels.size(); ++c)
                if (audio->channels[c].size() != audio->length() || !(audio->sampleRateHz > 0.0))
                    throw std::runtime_error("a channel of another length");
            return audio.ok();
        },
        1100, limitSeconds);
}
}

TEST_CASE("Two thousand damaged WAV files are read or refused: none crashes, throws or hangs")
{
    const auto report = readDamagedWavs(2000, 30);
    CHECK(report.failure == "");
    CHECK(report.taken > 100);
    CHECK(report.refused > 100);
}

TEST_CASE("Fifty thousand damaged WAV files are read or refused", "[.long]")
{
    CHECK(readDamagedWavs(50000, 600).failure == "");
}
