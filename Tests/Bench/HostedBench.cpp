// What the built VST3 and LV2 cost a host's audio thread, the wrapper among it: idle, and while a take runs.
//
// What could come out right here for the wrong reason: a plugin that passes the mix through because no take runs
// is as cheap as idling. So it is looked at whether the mix passes, before and after what is timed.
#include "Hosts/HostedPlugin.h"
#include "Timing.h"

#include <cstdlib>

using namespace plumbline::test;
using namespace plumbline::bench;

namespace
{

constexpr double rate = 48000.0;
constexpr int blockSize = 64, blocksTimed = 50;

class TimedHost
{
public:
    explicit TimedHost(HostedFormat format) : host(format, { rate, blockSize })
    {
        if (!host.loaded())
            giveUp(host.why().toRawUTF8());
        buffer.setSize(4, blockSize);
        buffer.clear();
    }

    /** ns a block, of so many measurements. */
    Quartiles nanoseconds(int measurements)
    {
        std::vector<double> values;
        for (int i = 0; i < measurements; ++i)
            values.push_back(1e9 / blocksTimed *
                             timed(
                                 [&]
                                 {
                                     for (int block = 0; block < blocksTimed; ++block)
                                         host.instance().processBlock(buffer, midi);
                                 }));
        return quartilesOf(values);
    }

    void expectMixPasses(bool passes)
    {
        host.run(blockSize * 4);
        if (host.mixPasses != passes)
            giveUp("The plugin is not in the state that is to be measured.");
    }

    void startTake()
    {
        if (!host.startByParameter())
            giveUp("No take began.");
    }

private:
    [[noreturn]] static void giveUp(const char* words)
    {
        std::fprintf(stderr, "%s\n", words);
        std::exit(1);
    }

    HostedPlugin host;
    juce::AudioBuffer<float> buffer;
    juce::MidiBuffer midi;
};

void printBlock(const char* what, const Quartiles& ns)
{
    constexpr double blockNanoseconds = 1e9 * blockSize / rate, mostPercent = 0.1;
    const double percent = 100.0 * ns.median / blockNanoseconds;
    print(what, ns, 1.0, "ns");
    std::printf("    %.4f %% of real time, under %.1f: %s\n", percent, mostPercent,
                verdict(percent < mostPercent));
}

}

int main()
{
    for (const auto format : { HostedFormat::vst3, HostedFormat::lv2 })
    {
        const HostedHome home;
        TimedHost host(format);
        const bool vst3 = format == HostedFormat::vst3;
        host.expectMixPasses(true);
        printBlock(vst3 ? "VST3 idle, a block" : "LV2 idle, a block", host.nanoseconds(60));
        host.startTake();
        const auto taking = host.nanoseconds(60); // 4 s of sound, of the 13 that a take lasts
        host.expectMixPasses(false);
        printBlock(vst3 ? "VST3 taking, a block" : "LV2 taking, a block", taking);
    }
    return 0;
}
