// The bundles as they are built, in JUCE's own hosting. There is no clock in it and no display; what is waited for is
// seen on disk or in the output.
//
// What could pass here for the wrong reason: a wire that is compared with itself (so the capture is compared with the
// sweep's closed form), a take that was never started (so the mix must be gone and the stimulus heard), and a plugin
// that is silent because it is not called (so the mix must come out exactly as it went in).
#include "Hosts/HostedPlugin.h"

#include <cmath>
#include <juce_audio_formats/juce_audio_formats.h>
#include <nlohmann/json.hpp>
#include <numbers>

using namespace plumbline::test;
using Json = nlohmann::json;

namespace
{

constexpr double startLevel = 0.01; // -40 dBFS

struct SavedTake
{
    explicit SavedTake(const std::filesystem::path& folder)
        : capture(Json::parse(readBytes(folder / "capture.json"))),
          analysis(Json::parse(readBytes(folder / "analysis.json")))
    {
        juce::WavAudioFormat format;
        const juce::File file((folder / "capture.wav").string());
        const std::unique_ptr<juce::AudioFormatReader> reader(
            format.createReaderFor(file.createInputStream().release(), true));
        REQUIRE(reader != nullptr);
        rateHz = reader->sampleRate;
        audio.setSize(static_cast<int>(reader->numChannels), static_cast<int>(reader->lengthInSamples));
        reader->read(&audio, 0, audio.getNumSamples(), 0, true, true);
    }

    Json capture, analysis;
    double rateHz = 0.0;
    juce::AudioBuffer<float> audio;
};

/** x(t) = sin(2 pi f1 L exp(t / L)) with half-cosine fades, at its level: one sample of the sweep's closed form. */
double sweepSample(const Json& stimulus, std::size_t index)
{
    const auto& sweep = stimulus["sweep"];
    const double rate = sweep["rateSeconds"], f1 = sweep["startHz"];
    const std::size_t samples = sweep["samples"], in = sweep["fadeInSamples"], out = sweep["fadeOutSamples"];
    if (index >= samples)
        return 0.0;
    const auto fade = [](std::size_t at, std::size_t count)
    {
        const double turn = (static_cast<double>(at) + 0.5) / static_cast<double>(count);
        return at < count ? 0.5 - 0.5 * std::cos(std::numbers::pi * turn) : 1.0;
    };
    const double seconds = static_cast<double>(index) / stimulus["sampleRateHz"].get<double>();
    return std::pow(10.0, stimulus["levelDbfs"].get<double>() / 20.0) *
           std::sin(2.0 * std::numbers::pi * std::round(f1 * rate) * std::exp(seconds / rate)) *
           fade(index, in) * fade(samples - 1 - index, out);
}

/** Largest distance of a channel from the closed form, played from both starts and `delay` samples late. */
double distanceFromWire(const SavedTake& take, int channel, int delay)
{
    const auto& stimulus = take.capture["stimulus"];
    const int left = stimulus["layout"]["leftStartSample"], right = stimulus["layout"]["rightStartSample"];
    double worst = 0.0;
    for (int i = 0; i < take.audio.getNumSamples(); ++i)
    {
        const int start = i - delay >= right ? right : left;
        const double wanted =
            i - delay < start ? 0.0 : sweepSample(stimulus, static_cast<std::size_t>(i - delay - start));
        worst = std::max(worst, std::abs(take.audio.getSample(channel, i) - wanted));
    }
    return worst;
}

void checkCurve(const Json& side)
{
    const auto& response = side["response"];
    const std::size_t count = response["frequencyHz"].size();
    std::size_t looked = 0;
    for (std::size_t i = 0; i < count; ++i)
    {
        const double hz = response["frequencyHz"][i];
        if (hz < 25.0 || hz > 19000.0)
            continue;
        ++looked;
        REQUIRE(response["known"][i].get<bool>());
        CHECK(std::abs(response["levelDb"][i].get<double>()) <= 0.05);
    }
    CHECK(looked > 450);
}

/** A take that the host's parameter starts, until it is on disk and the mix is back. */
void takeByParameter(HostedPlugin& host, const HostedHome& home, std::size_t takesThen)
{
    REQUIRE(host.mixPasses);
    REQUIRE(host.startByParameter());
    REQUIRE(host.until([&] { return home.takes().size() == takesThen && host.mixPasses; }));
    CHECK(host.loudest > 0.99 * startLevel);
    CHECK(host.loudest <= startLevel * (1.0 + 1e-6));
}

void checkTake(const std::filesystem::path& folder, const HostedPlugin& host, double rate, bool loopback)
{
    const SavedTake take(folder);
    CHECK(take.rateHz == rate);
    CHECK(take.capture["levelDbfs"] == -40.0);
    CHECK(distanceFromWire(take, 0, host.delay()) < 4.0 * HostedPlugin::mix);
    if (loopback)
        CHECK(distanceFromWire(take, 1, host.delay()) < 4.0 * HostedPlugin::mix);
    CHECK(distanceFromWire(take, 0, host.delay() + 1) > 0.1 * startLevel); // the negative control of the lag
    const double arrival = loopback ? 0.0 : host.delay() / rate;
    for (const auto* side : { "left", "right" })
    {
        checkCurve(take.analysis["sides"][side]);
        CHECK(std::abs(take.analysis["sides"][side]["travelTimeSeconds"].get<double>() - arrival) < 1e-9);
    }
    for (const auto& fault : take.analysis["faults"])
        CHECK(fault["severity"] != "doubt");
}

void shortenSweep(HostedPlugin& host)
{
    auto* length = host.parameter("Sweep length");
    REQUIRE(length != nullptr);
    length->setValue(0.0f); // 1 s
    host.run(48000.0);
}

const auto bothFormats = { HostedFormat::vst3, HostedFormat::lv2 };

}

TEST_CASE("Hosted at every rate in blocks from 0 to 8192, a take over a wire is exact and flat")
{
    const auto format = GENERATE(values(bothFormats));
    const auto rate = GENERATE(44100.0, 48000.0, 96000.0, 192000.0);
    const bool loopback = rate != 48000.0;
    const HostedHome home;
    HostedPlugin host(format, { .rateHz = rate, .loopback = loopback });
    INFO((format == HostedFormat::vst3 ? "VST3 " : "LV2 ") << rate << " " << host.why());
    REQUIRE(host.loaded());
    shortenSweep(host);
    takeByParameter(host, home, 1);
    CHECK(host.largestBlock > 8000);
    checkTake(home.takes().front(), host, rate, loopback);
}

TEST_CASE("Hosted in blocks from 0 to 16 samples, a take over a wire is exact and flat")
{
    const auto format = GENERATE(values(bothFormats));
    const HostedHome home;
    HostedPlugin host(format, { .longestBlock = 16 });
    REQUIRE(host.loaded());
    shortenSweep(host);
    takeByParameter(host, home, 1);
    CHECK(host.emptyBlocks > 1000);
    checkTake(home.takes().front(), host, 48000.0, true);
}

TEST_CASE("A state that was saved in one instance brings settings and trial back in another")
{
    const auto format = GENERATE(values(bothFormats));
    const HostedHome home;
    juce::MemoryBlock state;
    {
        HostedPlugin first(format, {});
        REQUIRE(first.loaded());
        shortenSweep(first);
        takeByParameter(first, home, 1);
        // The take is on disk a moment before the state names its trial. Once the next take has begun it does; this
        // one ends with the instance, and leaves nothing.
        REQUIRE(first.startByParameter());
        first.instance().getStateInformation(state);
    }
    HostedPlugin second(format, {});
    REQUIRE(second.loaded());
    CHECK(second.parameter("Sweep length")->getValue() > 0.01f); // not yet what the other had
    second.instance().setStateInformation(state.getData(), static_cast<int>(state.getSize()));
    second.run(48000.0);
    CHECK(second.parameter("Sweep length")->getValue() == 0.0f);
    takeByParameter(second, home, 2);
    CHECK(home.trialCount() == 1); // without the state it would have made a trial of its own
}

TEST_CASE("Without a Return, or with one that is silent, nothing is filed and the mix comes back")
{
    const auto format = GENERATE(values(bothFormats));
    const bool absent = format == HostedFormat::vst3 && GENERATE(true, false);
    const HostedHome home;
    HostedPlugin host(format, { .muted = true, .returnChannels = absent ? 0 : 2 });
    INFO(host.why());
    REQUIRE(host.loaded());
    shortenSweep(host);
    REQUIRE(host.mixPasses);
    if (absent)
        host.parameter("Start take")->setValue(1.0f);
    else
        REQUIRE(host.startByParameter());
    host.run(20.0 * 48000.0);
    CHECK(host.until([&] { return host.mixPasses; }));
    CHECK(home.takes().empty());
    CHECK(host.loudest <= startLevel * (1.0 + 1e-6));
}

TEST_CASE("Without the user's consent the host's parameter starts nothing, and the mix passes to the bit")
{
    const auto format = GENERATE(values(bothFormats));
    const HostedHome home(false);
    HostedPlugin host(format, {});
    REQUIRE(host.loaded());
    auto* start = host.parameter("Start take");
    REQUIRE(start != nullptr);
    for (int i = 0; i < 50; ++i)
    {
        start->setValue(static_cast<float>(i % 2));
        host.run(0.25 * 48000.0);
        REQUIRE(host.mixPasses);
    }
    CHECK(home.takes().empty());
    CHECK(host.loudest == HostedPlugin::mix);
}

TEST_CASE("The VST3 refuses a Return of one channel, and takes a main bus of one")
{
    const HostedHome home;
    HostedPlugin refused(HostedFormat::vst3, { .returnChannels = 1 });
    CHECK_FALSE(refused.loaded());
    CHECK(refused.why() == "the layout is refused");
    HostedPlugin mono(HostedFormat::vst3, { .mainChannels = 1 });
    REQUIRE(mono.loaded());
    mono.run(48000.0);
    CHECK(mono.mixPasses);
}

TEST_CASE("Main buses of more than two channels are refused in every format")
{
    const auto format = GENERATE(values(bothFormats));
    const HostedHome home;
    HostedPlugin host(format, { .mainChannels = 6 });
    CHECK_FALSE(host.loaded());
    CHECK(host.why() == "the layout is refused");
}
