#pragma once

#include "Support/TemporaryFolder.h"

#include <array>
#include <catch2/catch.hpp>
#include <functional>
#include <juce_audio_processors/juce_audio_processors.h>
#include <thread>
#include <vector>

namespace plumbline::test
{

enum class HostedFormat
{
    vst3,
    lv2
};

/** A settings folder and a trials folder of its own, named to the plugin by the environment before it is loaded. The
    cautions were read there, and the host may start a take unless it is told otherwise. */
class HostedHome
{
public:
    explicit HostedHome(bool hostMayStart = true)
    {
        std::filesystem::create_directories(folder / "settings");
        writeBytes(folder / "settings" / "settings.json",
                   std::string("{\"schema\": \"plumbline/settings/1\",") +
                       "\"careReadAt\": \"2026-01-01T12:00:00+00:00\", \"hostMayStart\": " +
                       (hostMayStart ? "true" : "false") + ", \"trialsFolder\": \"" + trials().string() +
                       "\"}");
        setenv("PLUMBLINE_SETTINGS", (folder / "settings").c_str(), 1);
    }

    ~HostedHome() { unsetenv("PLUMBLINE_SETTINGS"); }

    std::filesystem::path trials() const { return folder / "trials"; }

    /** Folders of the takes that their trial names. */
    std::vector<std::filesystem::path> takes() const;
    std::size_t trialCount() const;

private:
    TemporaryFolder folder;
};

/** One bundle in JUCE's own hosting, driven by hand without a display: what it plays comes back on its Return a fixed
    number of samples later. There is no clock in it. */
class HostedPlugin
{
public:
    struct Options
    {
        double rateHz = 48000.0;
        int longestBlock = 8192; ///< the hosting allows none longer than it prepared
        bool loopback = true;    ///< the Return's second channel carries it; otherwise it is silent
        bool muted = false;      ///< nothing comes back at all
        int returnChannels = 2, mainChannels = 2;
    };

    /** No plugin if its bundle cannot be loaded or refuses the layout; why() tells. */
    HostedPlugin(HostedFormat format, const Options& options);
    ~HostedPlugin();

    bool loaded() const noexcept { return plugin != nullptr; }

    const juce::String& why() const noexcept { return reason; }

    juce::AudioPluginInstance& instance() { return *plugin; }

    juce::AudioProcessorParameter* parameter(const juce::String& name);

    /** One block of a random size, zero among them. */
    void block();
    /** Blocks, and room for the plugin's own threads, until `done` or `most` blocks. @return whether it was done */
    bool until(const std::function<bool()>& done, int most = 20'000'000);
    /** Blocks for so many samples. */
    void run(double samples);
    /** Lets the plugin's parameter off and on until the mix is faded out. */
    bool startByParameter();

    /** Sample of the wire by which the Return is late. */
    int delay() const noexcept { return delaySamples; }

    /** The mix that goes in, too faint to be seen beside a stimulus 100 dB above. */
    static constexpr float mix = 1.0e-7f;

    float loudest = 0.0f;   ///< sample that was ever played
    bool mixPasses = false; ///< the last block that was not empty came out exactly as it went in
    std::size_t played = 0; ///< samples
    int largestBlock = 0, emptyBlocks = 0;

private:
    bool setLayout(const Options& options);
    void giveReturn(juce::AudioBuffer<float>& buffer, int frames);
    void listen(const juce::AudioBuffer<float>& buffer, int frames);

    juce::ScopedJuceInitialiser_GUI juceIsUp;
    juce::AudioPluginFormatManager formats;
    std::unique_ptr<juce::AudioPluginInstance> plugin;
    juce::String reason;
    Options options;
    int delaySamples;
    std::vector<float> wire; ///< a ring: what was played, both sides together
    std::size_t at = 0;
    juce::Random random{ 1 };
    juce::MidiBuffer midi;
};

}
