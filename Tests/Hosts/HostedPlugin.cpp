#include "Hosts/HostedPlugin.h"

#include <nlohmann/json.hpp>

namespace plumbline::test
{

namespace fs = std::filesystem;

std::size_t HostedHome::trialCount() const
{
    std::size_t count = 0;
    std::error_code error;
    for (const auto& entry : fs::directory_iterator(trials(), error))
        count += fs::exists(entry.path() / "trial.json", error) ? 1 : 0;
    return count;
}

std::vector<fs::path> HostedHome::takes() const
{
    std::vector<fs::path> found;
    std::error_code error;
    for (const auto& entry : fs::directory_iterator(trials(), error))
    {
        if (!fs::exists(entry.path() / "trial.json", error))
            continue;
        const auto trial = nlohmann::json::parse(readBytes(entry.path() / "trial.json"));
        for (const auto& take : trial.at("takes"))
            found.push_back(entry.path() / "takes" / take.at("id").get<std::string>());
    }
    return found;
}

HostedPlugin::HostedPlugin(HostedFormat format, const Options& wanted)
    : options(wanted), delaySamples(wanted.longestBlock + 123),
      wire(static_cast<std::size_t>(delaySamples), 0.0f)
{
    formats.addDefaultFormats();
    const juce::String name = format == HostedFormat::vst3 ? "VST3" : "LV2";
    const juce::File bundle(format == HostedFormat::vst3 ? PLUMBLINE_VST3 : PLUMBLINE_LV2);
    juce::OwnedArray<juce::PluginDescription> found;
    for (auto* one : formats.getFormats())
        if (one->getName() == name)
            for (const auto& file : one->searchPathsForPlugins(
                     juce::FileSearchPath(bundle.getParentDirectory().getFullPathName()), false, false))
                if (format == HostedFormat::lv2 ? file.contains("plumbline") : juce::File(file) == bundle)
                    one->findAllTypesForFile(found, file);
    if (found.isEmpty())
    {
        reason = "no plugin in " + bundle.getFullPathName();
        return;
    }
    plugin = formats.createPluginInstance(*found[0], options.rateHz, options.longestBlock, reason);
    if (plugin == nullptr)
        return;
    if (!setLayout(options))
    {
        reason = "the layout is refused";
        plugin.reset();
        return;
    }
    plugin->prepareToPlay(options.rateHz, options.longestBlock);
}

HostedPlugin::~HostedPlugin()
{
    if (plugin != nullptr)
        plugin->releaseResources();
}

bool HostedPlugin::setLayout(const Options& wanted)
{
    auto layout = plugin->getBusesLayout();
    if (layout.inputBuses.size() != 2)
        return false;
    const auto set = [](int channels)
    {
        return channels == 0 ? juce::AudioChannelSet::disabled()
                             : juce::AudioChannelSet::canonicalChannelSet(channels);
    };
    layout.inputBuses.getReference(0) = set(wanted.mainChannels);
    layout.outputBuses.getReference(0) = set(wanted.mainChannels);
    layout.inputBuses.getReference(1) = set(wanted.returnChannels);
    return layout == plugin->getBusesLayout() || plugin->setBusesLayout(layout);
}

juce::AudioProcessorParameter* HostedPlugin::parameter(const juce::String& name)
{
    for (auto* one : plugin->getParameters())
        if (one->getName(64) == name)
            return one;
    return nullptr;
}

void HostedPlugin::giveReturn(juce::AudioBuffer<float>& buffer, int frames)
{
    const int channels = options.muted ? 0 : plugin->getChannelCountOfBus(true, 1);
    for (int c = 0; c < std::min(channels, options.loopback ? 2 : 1); ++c)
    {
        auto* samples = buffer.getWritePointer(plugin->getChannelIndexInProcessBlockBuffer(true, 1, c));
        for (int i = 0; i < frames; ++i)
            samples[i] = wire[(at + static_cast<std::size_t>(i)) % wire.size()];
    }
}

void HostedPlugin::listen(const juce::AudioBuffer<float>& buffer, int frames)
{
    const int sides = plugin->getMainBusNumOutputChannels();
    mixPasses = frames > 0 ? true : mixPasses;
    for (int i = 0; i < frames; ++i)
    {
        float sum = 0.0f;
        for (int c = 0; c < sides; ++c)
        {
            const float sample = buffer.getSample(c, i);
            loudest = std::max(loudest, std::abs(sample));
            mixPasses = mixPasses && std::memcmp(&sample, &mix, sizeof sample) == 0;
            sum += sample;
        }
        wire[(at + static_cast<std::size_t>(i)) % wire.size()] = sum;
    }
    at += static_cast<std::size_t>(frames);
    played += static_cast<std::size_t>(frames);
}

void HostedPlugin::block()
{
    const int frames = random.nextInt(options.longestBlock + 1);
    largestBlock = std::max(largestBlock, frames);
    emptyBlocks += frames == 0 ? 1 : 0;
    juce::AudioBuffer<float> buffer(
        std::max(plugin->getTotalNumInputChannels(), plugin->getTotalNumOutputChannels()), frames);
    buffer.clear();
    for (int c = 0; c < plugin->getMainBusNumInputChannels(); ++c)
        for (int i = 0; i < frames; ++i)
            buffer.setSample(c, i, mix);
    giveReturn(buffer, frames);
    plugin->processBlock(buffer, midi);
    listen(buffer, frames);
}

bool HostedPlugin::until(const std::function<bool()>& done, int most)
{
    for (int i = 0; i < most; ++i)
    {
        if (done())
            return true;
        block();
        std::this_thread::yield();
    }
    return done();
}

void HostedPlugin::run(double samples)
{
    const auto end = played + static_cast<std::size_t>(samples);
    while (played < end)
        block();
}

bool HostedPlugin::startByParameter()
{
    auto* start = parameter("Start take");
    if (start == nullptr)
        return false;
    const auto tryOnce = [&]
    {
        start->setValue(0.0f);
        run(0.05 * options.rateHz);
        start->setValue(1.0f);
        run(0.1 * options.rateHz);
        return !mixPasses;
    };
    for (int i = 0; i < 100'000; ++i) // the plugin arms the take on its own thread
    {
        if (tryOnce())
            return true;
        std::this_thread::yield();
    }
    return false;
}

}
