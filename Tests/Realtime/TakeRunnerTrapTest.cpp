// What could pass here for the wrong reason: a trap that sees nothing. Support/RealtimeTrapTest.cpp proves
// that it does; here a control with a runner that allocates must be seen as well.

#include "Support/RealtimeTrap.h"
#include "Support/RunnerHost.h"

#include "Dsp/Random.h"

#include <catch2/catch.hpp>

using namespace plumbline;

namespace
{

/** Calls the runner with memory that is there already, under the trap. */
struct TrappedHost
{
    TrappedHost()
    {
        trap.disarm();
        runner.prepare(48000.0);
    }

    void block(int frames)
    {
        TakeBlock in;
        in.main = { left.data(), right.data() };
        in.returned = { microphone.data(), reference.data() };
        in.frames = frames;
        trap.arm();
        runner.process(in);
        trap.disarm();
    }

    template <class Act>
    void trapped(Act act)
    {
        trap.arm();
        act();
        trap.disarm();
    }

    TakeRunner runner;
    std::vector<float> left = std::vector<float>(8192), right = left, microphone = left, reference = left;
    ScopedRealtimeTrap trap; // last: it is armed once it is made
};

}

TEST_CASE("The runner neither allocates, locks nor waits through takes, stops and changing blocks")
{
    if (!trapIsActive())
        WARN(whyTrapIsOff());
    TrappedHost host;
    Random random(11);
    for (int round = 0; round < 12; ++round)
    {
        auto job = test::plainJob();
        host.trapped([&] { host.runner.offer(job); });
        host.block(64);
        host.trapped([&] { host.runner.start(); });
        const int stopAfter = round % 3 == 0 ? 40 : 1000000;
        TakeJob* back = nullptr;
        for (int i = 0; back == nullptr && i < 100000; ++i)
        {
            if (i == stopAfter)
                host.trapped([&] { round % 2 == 0 ? host.runner.stop() : host.runner.prepare(48000.0); });
            const int sizes[] = { 0, 1, 64, 480, 8192, static_cast<int>(8193.0 * random.uniform()) };
            host.block(sizes[random.bits() % 6]);
            host.trapped([&] { back = host.runner.collect(); });
        }
        REQUIRE(back == &job);
        host.trapped([&] { host.runner.release(); });
    }
    INFO(host.trap.report());
    CHECK(host.trap.violations() == 0);
}

TEST_CASE("The trap sees a host whose audio thread allocates (negative control)")
{
    if (!trapIsActive())
    {
        WARN(whyTrapIsOff());
        return;
    }
    TrappedHost host;
    std::vector<int>* made = nullptr;
    host.trapped([&] { made = new std::vector<int>(1000); });
    CHECK(host.trap.violations() > 0);
    delete made;
}
