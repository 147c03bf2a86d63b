// What could pass here for the wrong reason: a room that is never asked. Its echo is a plain delay and gain, so that
// every sample that must come back is known; and the same job without the room is seen to sound.

#include "Plugin/PracticeReturn.h"

#include "Support/RunnerHost.h"

#include <catch2/catch.hpp>

using namespace plumbline;
using test::plainJob;

namespace
{
constexpr std::size_t roomDelay = 700, loopDelay = 640;
constexpr float mix = 0.25f;

std::vector<double> echo(std::size_t delay, double gain)
{
    std::vector<double> taps(delay + 1, 0.0);
    taps[delay] = gain;
    return taps;
}

/** Left comes back at a half, right at a quarter; both come back on the loopback. */
std::unique_ptr<RoomLoop> plainRoom()
{
    RoomLoop::Spec spec;
    spec.taps = { echo(roomDelay, 0.5), echo(roomDelay, 0.25) };
    spec.referenceTaps = echo(loopDelay, 1.0);
    return std::make_unique<RoomLoop>(spec, Random(1));
}

TakeJob practiceJob()
{
    auto job = plainJob();
    job.practice = true;
    return job;
}

/** Main with a mix, a Return that holds 0.5: if that is recorded, it was the real one. */
struct PracticeHost
{
    PracticeHost() { runner.prepare(48000.0); }

    void block(int frames)
    {
        const auto count = static_cast<std::size_t>(frames);
        std::vector<float> left(count, mix), right(count, mix), returned(count, 0.5f);
        TakeBlock in;
        in.main = { left.data(), right.data() };
        in.returned = { connected ? returned.data() : nullptr, connected ? returned.data() : nullptr };
        in.frames = frames;
        practice.process(in, runner);
        outLeft.insert(outLeft.end(), left.begin(), left.end());
        outRight.insert(outRight.end(), right.begin(), right.end());
    }

    TakeJob* untilCollected(const std::vector<int>& sizes)
    {
        TakeJob* back = nullptr;
        for (std::size_t i = 0; back == nullptr && i < 400000; ++i)
        {
            block(sizes[i % sizes.size()]);
            back = runner.collect();
        }
        return back;
    }

    TakeRunner runner;
    PracticeReturn practice;
    bool connected = true;
    std::vector<float> outLeft, outRight;
};

/** What must be recorded at a sample of the stream. */
float expected(const TakeJob& job, std::size_t at, std::size_t delay, float left, float right)
{
    delay += PracticeReturn::delaySamples;
    auto plays = [&](std::size_t start)
    { return at >= start + delay && at < start + delay + job.sweep.size(); };
    return job.sweep[0] * ((plays(job.leftStart) ? left : 0.0f) + (plays(*job.rightStart) ? right : 0.0f));
}

double worstOf(const TakeJob& job)
{
    double worst = 0.0;
    for (std::size_t i = 0; i < job.totalSamples; ++i)
    {
        worst =
            std::max<double>(worst, std::abs(job.microphone[i] - expected(job, i, roomDelay, 0.5f, 0.25f)));
        worst = std::max<double>(worst, std::abs(job.reference[i] - expected(job, i, loopDelay, 1.0f, 1.0f)));
    }
    return worst;
}

/** The output is the mix, faded out and back, and nothing else. */
void checkMixAlone(const std::vector<float>& out)
{
    float largestStep = 0.0f;
    for (std::size_t i = 1; i < out.size(); ++i)
        largestStep = std::max(largestStep, std::abs(out[i] - out[i - 1]));
    CHECK(largestStep <= mix / 950.0f); // a whole way takes 20 ms at least
    CHECK(*std::max_element(out.begin(), out.end()) <= mix);
    CHECK(*std::min_element(out.begin(), out.end()) == 0.0f);
}
}

TEST_CASE("In the practice room a take is whole, exact and unheard, whatever the blocks")
{
    const std::vector<std::vector<int>> sequences{ { 1 },   { 64 },   { 63, 65 },
                                                   { 480 }, { 8192 }, { 0, 1, 8192, 333, 64, 0, 511, 4096 } };
    for (const auto& sizes : sequences)
    {
        INFO(sizes[0] << ", ... " << sizes.size());
        PracticeHost host;
        auto room = plainRoom();
        REQUIRE(host.practice.lend(room));
        auto job = practiceJob();
        REQUIRE(host.runner.offer(job));
        host.runner.start();
        REQUIRE(host.untilCollected(sizes) == &job);
        CHECK(job.complete());
        CHECK(job.referenceConnected);
        CHECK(worstOf(job) < 1e-7);
        checkMixAlone(host.outLeft);
        checkMixAlone(host.outRight);
    }
}

TEST_CASE("The same job without the practice room sounds (negative control)")
{
    PracticeHost host;
    auto job = plainJob();
    host.runner.offer(job);
    host.runner.start();
    REQUIRE(host.untilCollected({ 480 }) == &job);
    CHECK(std::count(host.outLeft.begin(), host.outLeft.end(), 0.01f) == 4800);
    CHECK(job.microphone[5000] == 0.5f);
}

TEST_CASE("The practice room needs no Return")
{
    PracticeHost host;
    host.connected = false;
    auto room = plainRoom();
    host.practice.lend(room);
    auto job = practiceJob();
    host.runner.offer(job);
    host.runner.start();
    REQUIRE(host.untilCollected({ 480 }) == &job);
    CHECK(worstOf(job) < 1e-7);
}

TEST_CASE("A job for the practice room waits for it, and a real one waits until it is gone")
{
    PracticeHost host;
    auto room = plainRoom();
    SECTION("practice job, room lent later")
    {
        auto job = practiceJob();
        host.runner.offer(job);
        host.runner.start();
        for (int i = 0; i < 100; ++i)
            host.block(480);
        CHECK(host.runner.phase() == TakePhase::armed);
        CHECK(host.outLeft.back() == mix);
        REQUIRE(host.practice.lend(room));
        REQUIRE(host.untilCollected({ 480 }) == &job);
        CHECK(worstOf(job) < 1e-7);
        checkMixAlone(host.outLeft);
    }
    SECTION("real job, room lent before")
    {
        auto job = plainJob();
        REQUIRE(host.practice.lend(room));
        host.runner.offer(job);
        host.runner.start();
        for (int i = 0; i < 100; ++i)
            host.block(480);
        CHECK(host.runner.phase() == TakePhase::armed);
        CHECK(host.outLeft.back() == mix);
        host.practice.askBack();
        REQUIRE(host.untilCollected({ 480 }) == &job);
        CHECK(job.microphone[5000] == 0.5f);
        CHECK(host.practice.collect());
    }
    SECTION("real job under way, room lent then")
    {
        auto job = plainJob();
        host.runner.offer(job);
        host.runner.start();
        for (int i = 0; i < 10; ++i)
            host.block(480);
        REQUIRE(host.runner.phase() == TakePhase::taking);
        REQUIRE(host.practice.lend(room));
        REQUIRE(host.untilCollected({ 480 }) == &job);
        // Stopped or whole; but never a part of it over the practice room.
        CHECK(std::all_of(job.microphone.begin(),
                          job.microphone.begin() + static_cast<std::ptrdiff_t>(job.recorded),
                          [](float x) { return x == 0.5f; }));
        if (job.complete())
            CHECK(std::count(host.outLeft.begin(), host.outLeft.end(), 0.01f) == 4800);
    }
    SECTION("practice job under way, room asked back then")
    {
        auto job = practiceJob();
        host.practice.lend(room);
        host.runner.offer(job);
        host.runner.start();
        for (int i = 0; i < 10; ++i)
            host.block(480);
        host.practice.askBack();
        CHECK_FALSE(host.practice.collect());
        REQUIRE(host.untilCollected({ 480 }) == &job);
        CHECK(worstOf(job) < 1e-7);
        host.block(64);
        CHECK(host.practice.collect());
    }
}

TEST_CASE("One room is out at a time: the next is lent when the last has come back")
{
    PracticeHost host;
    CHECK(host.practice.collect()); // none is out
    auto first = plainRoom(), second = plainRoom();
    REQUIRE(host.practice.lend(first));
    CHECK(first == nullptr);
    CHECK_FALSE(host.practice.lend(second));
    CHECK(second != nullptr);
    host.block(64);
    CHECK_FALSE(host.practice.collect());
    host.practice.askBack();
    CHECK_FALSE(host.practice.collect()); // no block has seen it
    SECTION("by the next block")
    {
        host.block(0);
    }
    SECTION("by a host that has stopped")
    {
        host.practice.release();
    }
    CHECK(host.practice.collect());
    CHECK(host.practice.lend(second));
}

TEST_CASE("A host that stops keeps a room that nobody asked back")
{
    PracticeHost host;
    auto room = plainRoom();
    host.practice.lend(room);
    host.practice.release();
    CHECK_FALSE(host.practice.collect());
}

TEST_CASE("A room lent and asked back before any block comes back, and the Return is the real one")
{
    PracticeHost host;
    auto room = plainRoom();
    host.practice.lend(room);
    host.practice.askBack();
    host.block(64);
    CHECK(host.practice.collect());
    auto job = plainJob();
    host.runner.offer(job);
    host.runner.start();
    REQUIRE(host.untilCollected({ 480 }) == &job);
    CHECK(job.microphone[0] == 0.5f);
}

TEST_CASE("A second take in the practice room hears nothing of the first")
{
    PracticeHost host;
    for (int round = 0; round < 2; ++round)
    {
        auto room = plainRoom();
        REQUIRE(host.practice.lend(room));
        auto job = practiceJob();
        host.runner.offer(job);
        host.runner.start();
        if (round == 0)
        {
            for (int i = 0; i < 20; ++i)
                host.block(333); // into the sweep
            host.runner.stop();
            REQUIRE(host.untilCollected({ 333 }) == &job);
        }
        else
        {
            REQUIRE(host.untilCollected({ 333 }) == &job);
            CHECK(worstOf(job) < 1e-7);
        }
        host.practice.askBack();
        host.block(64);
        REQUIRE(host.practice.collect());
    }
}
