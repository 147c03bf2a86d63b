// What could pass here for the wrong reason: a damaged file that is refused for another damage than its own.
// Each one differs from a good file, put together byte by byte, in one thing, and the code of the refusal is
// looked at. A reader that hangs or crashes would end the tests with it: what might is read in a child
// process, against a limit of time. A random damage that never matters: how many were taken, and how many
// refused, is counted.

#include "Files/WavFile.h"

#include "Support/ChildProcess.h"
#include "Support/Damage.h"
#include "Support/TemporaryFolder.h"
#include "Support/WavBytes.h"

#include <catch2/catch.hpp>
#include <stdexcept>
#include <unistd.h>

using namespace plumbline;
using namespace plumbline::test;

namespace
{

std::string goodFile()
{
    return riff(formatChunk(3, 2, 48000, 32) + chunk("data", floatBytes(fourFrames)));
}

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
