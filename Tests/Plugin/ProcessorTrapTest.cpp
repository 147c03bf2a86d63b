// What could pass here for the wrong reason: blocks that do nothing. The takes must end complete and flat
// under the trap.

#include "Support/LoopHost.h"
#include "Support/RealtimeTrap.h"

#include <catch2/catch.hpp>

using namespace plumbline;

TEST_CASE(
    "processBlock neither allocates, locks nor touches files through take, stop, reset and changing blocks")
{
    if (!trapIsActive())
        WARN(whyTrapIsOff());
    test::LoopHost host;
    juce::MidiBuffer midi;
    ScopedRealtimeTrap trap;
    trap.disarm();
    std::vector<float> memory(4 * 8192, 0.0f);
    const int sizes[] = { 0, 512, 1, 8192, 64, 100 };
    int completed = 0, stopped = 0;
    for (int round = 0; round < 4; ++round)
    {
        REQUIRE_FALSE(host.processor.requestTake(host.request()));
        const auto before = host.number();
        for (int i = 0; host.number() == before && i < 4000; ++i)
        {
            host.processor.stepAnalysis();
            const int frames = sizes[i % 6];
            float* channels[] = { memory.data(), memory.data() + 8192, memory.data() + 16384,
                                  memory.data() + 24576 };
            juce::AudioBuffer<float> buffer(channels, 4,
                                            frames); // refers to memory: allocates nothing itself
            buffer.clear(0, 0, frames);
            buffer.clear(1, 0, frames);
            trap.arm();
            host.processor.processBlock(buffer, midi);
            if (i == 60 && round == 2)
                host.processor.reset();
            if (i == 60 && round == 3)
                host.processor.prepareToPlay(48000.0, 8192); // some hosts call it on the audio thread
            trap.disarm();
            if (i == 60 && round == 1)
                host.processor.stopTake(); // from any thread but this one
            for (int n = 0; n < frames; ++n)
                channels[2][n] = channels[3][n] = channels[0][n] + channels[1][n];
        }
        const auto result = host.processor.takeStatus().latest;
        REQUIRE(result != nullptr);
        completed += result->analysis != nullptr ? 1 : 0;
        stopped += result->problem ? 1 : 0;
    }
    CHECK(completed == 2);
    CHECK(stopped == 2);
    INFO(trap.report());
    CHECK(trap.violations() == 0);
}
