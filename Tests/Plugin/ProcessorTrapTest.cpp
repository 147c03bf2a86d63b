// What could pass here for the wrong reason: blocks that do nothing. The takes must end complete and flat
// under the trap.

#include "Support/LoopHost.h"
#include "Support/RealtimeTrap.h"
#include "Support/SessionHost.h"

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

namespace
{
/** A whole instance, each block under the trap, of every size and in between them the calls that a host and a window
    make. */
struct TrappedSession
{
    explicit TrappedSession(ScopedRealtimeTrap& trap)
    {
        host.aroundBlock = [&trap](const std::function<void()>& process)
        {
            trap.arm();
            process();
            trap.disarm();
        };
        const int sizes[] = { 0, 512, 1, 8192, 64, 100, 0, 4096 };
        host.nextFrames = [this, sizes, i = 0]() mutable
        {
            if (i % 16 == 5) // what a host and a window ask meanwhile, on their own threads
            {
                static_cast<void>(host.state());
                static_cast<void>(host.session().live());
                static_cast<void>(host.view());
            }
            return sizes[i++ % 8];
        };
        host.line.assign(8192, 0.0f);
        host.beginReady();
    }

    std::size_t takes() { return host.view()->trial.trial->takes.size(); }

    test::TemporarySettings settings;
    test::SessionHost host;
};
}

TEST_CASE(
    "The whole plugin keeps the audio thread free: practice room, host's start, armed take, state calls")
{
    if (!trapIsActive())
        WARN(whyTrapIsOff());
    ScopedRealtimeTrap trap;
    trap.disarm();
    TrappedSession trapped(trap);
    auto& host = trapped.host;
    host.session().usePracticeRoom(true);
    host.take();
    CHECK(trapped.takes() == 1);
    host.session().usePracticeRoom(false); // the room is given back
    host.take();
    CHECK(trapped.takes() == 2);
    host.session().usePracticeRoom(true);
    host.session().letHostStart(true);
    REQUIRE(host.until([&] { return host.phase() == LiveState::Phase::armed; }, 2.0));
    host.trigger();
    CHECK(host.phase() == LiveState::Phase::taking);
    host.restore(host.state()); // an undo of the host in mid-take
    host.finishTake();
    host.session().setPlan({ -50.0, 1.0, 20.0, 20000.0 }); // armed anew
    REQUIRE(host.until([&] { return host.phase() == LiveState::Phase::armed; }, 2.0));
    host.session().stop();
    host.pump(20);
    CHECK(host.says("stopped"));
    host.session().startTake();
    REQUIRE(host.runIntoTheSweep());
    host.session().windowClosed();
    host.pump(20);
    CHECK(host.says("window-closed"));
    INFO(trap.report());
    CHECK(trap.violations() == 0);
}

TEST_CASE("The trap sees a call beside the plugin's block (negative control)")
{
    if (!trapIsActive())
    {
        WARN(whyTrapIsOff());
        return;
    }
    ScopedRealtimeTrap trap;
    trap.disarm();
    TrappedSession trapped(trap);
    trapped.host.pump(20);
    CHECK(trap.violations() == 0);
    trapped.host.aroundBlock = [&trap, &trapped](const std::function<void()>& process)
    {
        trap.arm();
        process();
        static_cast<void>(trapped.host.state()); // as a host that asks on the audio thread
        trap.disarm();
    };
    trapped.host.pump(1);
    CHECK(trap.violations() > 0);
}
