// What the processor costs the audio thread, 48 kHz, blocks of 64, stereo with a stereo Return: idle (the mix
// passes, the Return is metered) and while a take runs (plays, records, watches).
//
//   plumbline_block_bench time            ns a block, thread-CPU time
//   plumbline_block_bench instructions    for run.sh, under callgrind: one dump a block
//
// What could come out right here for the wrong reason: a take that has ended, or never began, is as cheap as
// idling. So the phase is looked at before and after what is timed.
#include "Plugin/PlumblineProcessor.h"
#include "Timing.h"

#include "Dsp/Random.h"

#include <cstdlib>
#include <string_view>

#if __has_include(<valgrind/callgrind.h>)
#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wconversion"
#include <valgrind/callgrind.h>
#pragma GCC diagnostic pop
#define PLUMBLINE_COUNTS 1
#else
#define PLUMBLINE_COUNTS 0
#endif

using namespace plumbline;
using namespace plumbline::bench;

namespace
{

constexpr double rate = 48000.0;
constexpr int blockSize = 64;
constexpr double blockNanoseconds = 1e9 * blockSize / rate;

/** A processor in a host that plays a quiet mix and whose Return hears something. */
class Host
{
public:
    Host() : plugin(AnalysisDrive::byHand), buffer(4, blockSize)
    {
        plugin.setRateAndBufferSizeDetails(rate, blockSize);
        plugin.prepareToPlay(rate, blockSize);
        Random random(7);
        for (int channel = 0; channel < 4; ++channel)
            for (int i = 0; i < blockSize; ++i)
                buffer.setSample(channel, i, static_cast<float>(0.01 * random.normal()));
    }

    void process() { plugin.processBlock(buffer, midi); }

    TakePhase phase() const { return plugin.takeStatus().phase; }

    void expect(TakePhase wanted) const
    {
        if (phase() == wanted)
            return;
        std::fprintf(stderr, "The processor is not in the phase that is to be measured.\n");
        std::exit(1);
    }

    /** The stimulus is made, and the next block begins the take. @return blocks it will last, at least */
    int beginTake(double seconds)
    {
        TakeRequest request = plugin.requestFromParameters();
        request.stimulus.seconds = seconds;
        if (plugin.requestTake(request))
            std::exit(1);
        plugin.stepAnalysis();
        expect(TakePhase::idle); // offered, not seen yet
        const auto stimulus = designStimulus(request.stimulus);
        return static_cast<int>(stimulus->totalSamples / blockSize);
    }

private:
    PlumblineProcessor plugin;
    juce::AudioBuffer<float> buffer; ///< main left, right; Return microphone, reference
    juce::MidiBuffer midi;
};

constexpr int blocksTimed = 50; // together, so that the clock itself is a small part

std::vector<double> nanosecondsOf(Host& host, int blocks)
{
    std::vector<double> values;
    for (int done = 0; done + blocksTimed <= blocks; done += blocksTimed)
        values.push_back(1e9 / blocksTimed *
                         timed(
                             [&]
                             {
                                 for (int i = 0; i < blocksTimed; ++i)
                                     host.process();
                             }));
    return values;
}

void report(const char* what, const std::vector<double>& nanoseconds)
{
    const auto q = quartilesOf(nanoseconds);
    char words[80];
    std::snprintf(words, sizeof words, "  %.4f %% of real time, under 0.1: %s",
                  100.0 * q.median / blockNanoseconds, verdict(q.median < 0.001 * blockNanoseconds));
    print(what, q, 1.0, "ns", words);
}

void time()
{
    std::vector<double> idle, taking;
    constexpr int idleBlocks = 15000;
    for (int take = 0; take < 4; ++take) // in turn, so that both meet the same machine
    {
        Host host;
        nanosecondsOf(host, idleBlocks / 10); // caches and clock speed settle
        const auto still = nanosecondsOf(host, idleBlocks);
        host.expect(TakePhase::idle);
        idle.insert(idle.end(), still.begin(), still.end());
        const int blocks = host.beginTake(5.0);
        for (int i = 0; i < 100; ++i) // the mix fades out first
            host.process();
        host.expect(TakePhase::taking);
        const auto busy = nanosecondsOf(host, blocks - 200);
        host.expect(TakePhase::taking);
        taking.insert(taking.end(), busy.begin(), busy.end());
    }
    report("idle, a block of 64", idle);
    report("taking, a block of 64", taking);
}

#if PLUMBLINE_COUNTS
/** Each dump holds what one block took. What is between is not counted: callgrind runs with
    --collect-atstart=no. */
void count(Host& host, const char* name)
{
    CALLGRIND_TOGGLE_COLLECT;
    host.process();
    CALLGRIND_TOGGLE_COLLECT;
    CALLGRIND_DUMP_STATS_AT(name);
    CALLGRIND_ZERO_STATS;
}

int countInstructions()
{
    Host host;
    for (int i = 0; i < 100; ++i)
        host.process();
    CALLGRIND_ZERO_STATS;
    for (int i = 0; i < 300; ++i)
        count(host, "idle");
    const int blocks = host.beginTake(1.0);
    for (int i = 0; i < blocks; ++i)
        count(host, "taking");
    host.expect(TakePhase::taking);
    return 0;
}
#else
int countInstructions()
{
    std::puts(
        "  not counted: valgrind/callgrind.h was not there when this was built (Debian package valgrind)");
    return 3;
}
#endif

}

int main(int count, char** arguments)
{
    const std::string_view mode = count > 1 ? arguments[1] : "";
    if (mode == "instructions")
        return countInstructions();
    if (mode != "time")
        return 2;
    time();
    return 0;
}
