// What could pass here for the wrong reason: a runner that is silent always. So the mix and the stimulus are
// looked for where they must be, and silence only where it must be.

#include "Support/RunnerHost.h"

#include <catch2/catch.hpp>
#include <limits>

using namespace plumbline;
using test::plainJob;
using test::RunnerHost;

namespace
{
constexpr std::size_t tenMilliseconds = 480;

/** Runs until the stimulus of the left has been playing for a while. */
void runIntoTheLeftSweep(RunnerHost& host, TakeJob& job, int frames = 256)
{
    REQUIRE(host.runner.offer(job));
    host.runner.start();
    REQUIRE(host.until([&] { return host.runner.position() > job.leftStart + 1000; }, frames));
    REQUIRE(host.loudestFrom(host.outLeft.size() - 100) == job.ceiling);
}
}

TEST_CASE("With nothing to do the mix passes sample for sample")
{
    RunnerHost host;
    host.mix = 0.25f;
    host.block(512);
    host.block(0);
    host.block(8192);
    CHECK(std::all_of(host.outLeft.begin(), host.outLeft.end(), [](float x) { return x == 0.25f; }));
    CHECK(host.outLeft == host.outRight);
}

TEST_CASE("A take plays left, then right, records what returns, and gives the mix back")
{
    for (const int frames : { 1, 64, 480, 8192 })
    {
        RunnerHost host;
        host.mix = 0.25f;
        auto job = plainJob();
        REQUIRE(host.runner.offer(job));
        host.block(frames);
        CHECK(host.runner.phase() == TakePhase::armed);
        host.runner.start();
        TakeJob* back = nullptr;
        for (int i = 0; i < 60000 && back == nullptr; ++i)
        {
            host.block(frames, [](auto& microphone) { microphone.assign(microphone.size(), 0.125f); });
            back = host.runner.collect();
        }
        REQUIRE(back == &job);
        CHECK(job.complete());
        CHECK(host.runner.phase() == TakePhase::idle);
        CHECK(std::all_of(job.microphone.begin(), job.microphone.end(), [](float x) { return x == 0.125f; }));
        // Where the left plays, the right is silent, and the other way about; both play their whole sweep.
        const auto plays = [](const std::vector<float>& out)
        { return std::count(out.begin(), out.end(), 0.01f); };
        CHECK(plays(host.outLeft) == 4800);
        CHECK(plays(host.outRight) == 4800);
        for (std::size_t i = 0; i < host.outLeft.size(); ++i)
            if (host.outLeft[i] == 0.01f)
                CHECK(host.outRight[i] == 0.0f);
        // The mix comes back whole.
        host.until([&] { return host.outLeft.back() == 0.25f; });
        CHECK(host.outLeft.back() == 0.25f);
    }
}

TEST_CASE("The loopback in the Return tells the delay of the loop exactly")
{
    RunnerHost host;
    auto job = plainJob();
    host.runner.offer(job);
    host.runner.start();
    REQUIRE(host.until([&] { return host.runner.collect() != nullptr; }, 128));
    const auto first = std::find(job.reference.begin(), job.reference.end(), 0.01f) - job.reference.begin();
    CHECK(first == static_cast<std::ptrdiff_t>(job.leftStart) + 128); // a block late, as in a host
}

TEST_CASE("The mix fades without a step, out and in")
{
    RunnerHost host;
    host.mix = 0.5f;
    auto job = plainJob(480);
    std::fill(job.sweep.begin(), job.sweep.end(), 0.0f); // only the mix is looked at
    host.runner.offer(job);
    host.runner.start();
    host.until([&] { return host.runner.collect() != nullptr; });
    host.until([&] { return host.outLeft.back() == 0.5f; });
    float largest = 0.0f;
    for (std::size_t i = 1; i < host.outLeft.size(); ++i)
        largest = std::max(largest, std::abs(host.outLeft[i] - host.outLeft[i - 1]));
    CHECK(largest <= 0.5f / 480.0f); // at most a whole way in 10 ms
    CHECK(*std::min_element(host.outLeft.begin(), host.outLeft.end()) == 0.0f);
}

TEST_CASE("Each reason to stop silences the output within 10 ms of the first block that could know")
{
    struct Row
    {
        const char* name;
        std::function<void(RunnerHost&)> provoke; ///< changes the host, or disturbs one block
        StopCause expected;
    };

    auto disturbed = [](float value)
    {
        return [value](RunnerHost& host)
        { host.block(256, [value](auto& microphone) { microphone.assign(microphone.size(), value); }); };
    };
    const Row rows[] = {
        { "asked", [](RunnerHost& host) { host.runner.stop(); }, StopCause::asked },
        { "overload", disturbed(1.0f), StopCause::overload },
        { "not finite", disturbed(std::numeric_limits<float>::quiet_NaN()), StopCause::notFinite },
        { "infinite", disturbed(-std::numeric_limits<float>::infinity()), StopCause::notFinite },
        { "rate changed", [](RunnerHost& host) { host.runner.prepare(44100.0); }, StopCause::streamChanged },
        { "prepared anew", [](RunnerHost& host) { host.runner.prepare(48000.0); }, StopCause::streamChanged },
        { "Return unplugged", [](RunnerHost& host) { host.connected = false; }, StopCause::streamChanged },
        { "host stopped", [](RunnerHost& host) { host.runner.release(); }, StopCause::hostStopped },
        { "window closed", [](RunnerHost& host) { host.runner.stop(StopCause::windowClosed); },
          StopCause::windowClosed },
        { "two causes: the first counts",
          [](RunnerHost& host)
          {
              host.runner.stop(StopCause::windowClosed);
              host.runner.stop();
          },
          StopCause::windowClosed },
        { "render begun", [](RunnerHost& host) { host.offline = true; }, StopCause::offlineRender },
    };
    for (const auto& row : rows)
    {
        INFO(row.name);
        RunnerHost host;
        auto job = plainJob(48000);
        runIntoTheLeftSweep(host, job);
        const auto knownAt = host.outLeft.size();
        row.provoke(host);
        host.block(256);
        host.block(2048);
        CHECK(host.loudestFrom(knownAt + tenMilliseconds) == 0.0f);
        CHECK(host.runner.phase() == TakePhase::failed);
        CHECK(host.runner.cause() == row.expected);
        TakeJob* back = host.runner.collect();
        REQUIRE(back == &job);
        CHECK(back->cause == row.expected);
        CHECK_FALSE(back->complete());
        // The next take works.
        host.offline = false;
        host.connected = true;
        host.runner.prepare(48000.0);
        auto next = plainJob();
        REQUIRE(host.runner.offer(next));
        host.runner.start();
        CHECK(host.until([&] { return host.runner.collect() == &next; }));
        CHECK(next.complete());
    }
}

TEST_CASE("A stop in the silence between the sweeps, in the fade and when armed is a stop too")
{
    SECTION("armed")
    {
        RunnerHost host;
        auto job = plainJob();
        host.runner.offer(job);
        host.block(64);
        host.runner.stop();
        host.block(64);
        CHECK(host.runner.collect() == &job);
        CHECK(job.cause == StopCause::asked);
        CHECK(host.loudestFrom(0) == 0.0f);
    }
    SECTION("in the fade")
    {
        RunnerHost host;
        host.mix = 0.5f;
        auto job = plainJob();
        host.runner.offer(job);
        host.runner.start();
        host.block(64);
        host.runner.stop();
        const auto knownAt = host.outLeft.size();
        host.block(2048);
        CHECK(host.loudestFrom(knownAt + tenMilliseconds) == 0.0f);
        CHECK(host.runner.collect() == &job);
    }
    SECTION("between the sweeps")
    {
        RunnerHost host;
        auto job = plainJob();
        host.runner.offer(job);
        host.runner.start();
        host.until([&] { return host.runner.position() > job.leftStart + job.sweep.size() + 100; });
        host.runner.stop();
        host.block(1024);
        CHECK(host.runner.collect() == &job);
        host.block(8192);
        CHECK(host.loudestFrom(host.outLeft.size() - 8192) == 0.0f);
    }
}

TEST_CASE("After a stop the mix returns by itself, but not after overload: that must be acknowledged")
{
    RunnerHost host;
    host.mix = 0.5f;
    auto job = plainJob(48000);
    SECTION("asked")
    {
        runIntoTheLeftSweep(host, job);
        host.runner.stop();
        host.block(24000);
        host.block(24000);
        CHECK(host.outLeft.back() == 0.5f);
    }
    SECTION("overload")
    {
        runIntoTheLeftSweep(host, job);
        host.block(64, [](auto& microphone) { microphone.assign(microphone.size(), 1.0f); });
        const auto knownAt = host.outLeft.size();
        for (int i = 0; i < 10; ++i)
            host.block(8192);
        CHECK(host.loudestFrom(knownAt + tenMilliseconds) == 0.0f);
        host.runner.acknowledge();
        host.block(8192);
        host.block(8192);
        CHECK(host.outLeft.back() == 0.5f);
        CHECK(host.runner.phase() == TakePhase::idle);
    }
}

TEST_CASE("No take begins without a Return, in an offline render, or at another rate")
{
    RunnerHost host;
    auto job = plainJob();
    StopCause expected = StopCause::none;
    SECTION("no Return")
    {
        host.connected = false;
        expected = StopCause::noReturn;
    }
    SECTION("offline")
    {
        host.offline = true;
        expected = StopCause::offlineRender;
    }
    SECTION("another rate")
    {
        job.sampleRateHz = 96000.0;
        expected = StopCause::streamChanged;
    }
    host.runner.offer(job);
    host.runner.start();
    host.block(512);
    CHECK(host.runner.collect() == &job);
    CHECK(job.cause == expected);
    CHECK(host.loudestFrom(0) == 0.0f);
}

TEST_CASE("Nothing leaves louder than the ceiling, whatever the job holds")
{
    RunnerHost host;
    auto job = plainJob(4800, 48000.0, 0.01f);
    job.sweep[100] = 3.0f;
    job.sweep[200] = -3.0f;
    host.runner.offer(job);
    host.runner.start();
    host.until([&] { return host.runner.collect() != nullptr; });
    CHECK(host.loudestFrom(0) == 0.01f);
}

TEST_CASE("A second job is refused while one is out, and an unseen one can be withdrawn")
{
    RunnerHost host;
    auto first = plainJob(), second = plainJob();
    REQUIRE(host.runner.offer(first));
    CHECK_FALSE(host.runner.offer(second));
    CHECK(host.runner.withdraw() == &first);
    REQUIRE(host.runner.offer(second));
    host.block(64);
    CHECK(host.runner.withdraw() == nullptr);
}

TEST_CASE("A mono output plays both sweeps on its one channel")
{
    RunnerHost host;
    host.stereo = false;
    auto job = plainJob();
    host.runner.offer(job);
    host.runner.start();
    host.until([&] { return host.runner.collect() != nullptr; });
    CHECK(std::count(host.outLeft.begin(), host.outLeft.end(), 0.01f) == 9600);
}

TEST_CASE("A part of a block is its frames from one on, on every channel that is there")
{
    float left[8]{}, right[8]{}, practice[8]{};
    const float microphone[8]{};
    TakeBlock block;
    block.main = { left, right };
    block.returned = { microphone, nullptr };
    block.practice = { practice, nullptr };
    block.frames = 8;
    block.offline = true;
    const auto part = block.part(3, 2);
    CHECK(part.main == std::array<float*, 2>{ left + 3, right + 3 });
    CHECK(part.returned == std::array<const float*, 2>{ microphone + 3, nullptr });
    CHECK(part.practice == std::array<float*, 2>{ practice + 3, nullptr });
    CHECK(part.frames == 2);
    CHECK(part.offline);
    CHECK(block.main[0] == left); // the whole one is as it was
    CHECK(block.frames == 8);
}

TEST_CASE("A job for the practice room never begins in a block without one, however long it waits")
{
    RunnerHost host;
    auto job = plainJob();
    job.practice = GENERATE(true, false);
    REQUIRE(host.runner.offer(job));
    host.runner.start();
    host.until([&] { return host.runner.collect() != nullptr; });
    CHECK(job.complete() == !job.practice);
    CHECK((host.loudestFrom(0) == 0.0f) == job.practice);
    if (job.practice)
    {
        host.runner.stop();
        host.block(64);
        CHECK(host.runner.collect() == &job);
        CHECK(job.cause == StopCause::asked);
    }
}

TEST_CASE("In a block of the practice room the stimulus goes there alone, and a real job does not begin")
{
    RunnerHost host;
    auto job = plainJob();
    job.practice = GENERATE(true, false);
    host.runner.offer(job);
    host.runner.start();
    float loudest = 0.0f, played = 0.0f;
    for (int i = 0; i < 400; ++i)
    {
        std::vector<float> left(256, 0.0f), right(256, 0.0f), returned(256, 0.0f);
        std::vector<float> practiceLeft(256, 0.0f), practiceRight(256, 0.0f);
        TakeBlock block;
        block.main = { left.data(), right.data() };
        block.returned = { returned.data(), returned.data() };
        block.practice = { practiceLeft.data(), practiceRight.data() };
        block.frames = 256;
        host.runner.process(block);
        for (const auto* out : { &left, &right })
            loudest = std::max(loudest, *std::max_element(out->begin(), out->end()));
        for (const auto* out : { &practiceLeft, &practiceRight })
            played = std::max(played, *std::max_element(out->begin(), out->end()));
    }
    CHECK(loudest == 0.0f);
    CHECK(played == (job.practice ? job.ceiling : 0.0f));
    CHECK((host.runner.collect() == &job) == job.practice);
}

TEST_CASE("Microphone and loopback have a meter each, which starts anew when it is read")
{
    RunnerHost host;
    host.reference.assign(64, 0.125f);
    host.block(64, [](auto& microphone) { microphone[7] = -0.75f; });
    CHECK(host.runner.takeReturnPeak(0) == 0.75f);
    CHECK(host.runner.takeReturnPeak(1) == 0.125f);
    CHECK(host.runner.takeReturnPeak(0) == 0.0f);
    CHECK(host.runner.takeReturnPeak(1) == 0.0f);
    CHECK(host.runner.returnSeen());
    CHECK_FALSE(host.runner.renderSeen());
    host.loopback = false;
    host.reference.assign(64, 0.125f);
    host.block(64);
    CHECK(host.runner.takeReturnPeak(1) == 0.0f);
    CHECK(host.runner.returnSeen());
    host.connected = false;
    host.offline = true;
    host.block(64);
    CHECK_FALSE(host.runner.returnSeen());
    CHECK(host.runner.renderSeen());
}

TEST_CASE(
    "The output says that it is held silent after overload until it is acknowledged, after other stops not")
{
    RunnerHost host;
    auto job = plainJob(48000);
    CHECK_FALSE(host.runner.heldSilent());
    runIntoTheLeftSweep(host, job);
    CHECK_FALSE(host.runner.heldSilent());
    SECTION("overload")
    {
        host.block(64, [](auto& microphone) { microphone.assign(microphone.size(), 1.0f); });
        host.block(1024);
        CHECK(host.runner.heldSilent());
        host.block(48000);
        CHECK(host.runner.heldSilent());
        host.runner.acknowledge();
        host.block(64);
        CHECK_FALSE(host.runner.heldSilent());
    }
    SECTION("stop")
    {
        host.runner.stop();
        host.block(1024);
        CHECK(host.runner.phase() == TakePhase::failed);
        CHECK_FALSE(host.runner.heldSilent());
    }
}

TEST_CASE("A window closed while a take is armed hands it back, and says so")
{
    RunnerHost host;
    auto job = plainJob();
    host.runner.offer(job);
    host.block(64);
    host.runner.stop(StopCause::windowClosed);
    host.block(64);
    CHECK(host.runner.collect() == &job);
    CHECK(job.cause == StopCause::windowClosed);
    CHECK(host.loudestFrom(0) == 0.0f);
}
