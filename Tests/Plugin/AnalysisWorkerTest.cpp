// What could pass here for the wrong reason: a clock that runs by itself. The test owns the time.

#include "Plugin/AnalysisWorker.h"
#include "Support/RunnerHost.h"

#include <catch2/catch.hpp>

using namespace plumbline;

namespace
{
struct Bench
{
    test::RunnerHost host;
    double seconds = 0.0;
    AnalysisWorker worker{ host.runner, [this] { return seconds; } };

    static TakeRequest request()
    {
        TakeRequest wanted;
        wanted.stimulus.seconds = 1.0;
        return wanted;
    }
};
}

TEST_CASE("Before the host has told its rate no take is made")
{
    Bench bench;
    REQUIRE_FALSE(bench.worker.request(Bench::request()));
    bench.worker.step();
    REQUIRE(bench.worker.status().latest != nullptr);
    CHECK(bench.worker.status().latest->problem->code == "not-prepared");
    CHECK_FALSE(bench.worker.status().busy);
}

TEST_CASE("A host that stops calling is noticed, before the take and within it")
{
    Bench bench;
    bench.worker.setSessionRate(48000.0);
    REQUIRE_FALSE(bench.worker.request(Bench::request()));
    bench.worker.step();
    const bool within = GENERATE(false, true);
    if (within)
        bench.host.until([&] { return bench.host.runner.position() > 60000; });
    bench.worker.step();
    bench.seconds += 1.9;
    bench.worker.step();
    CHECK(bench.worker.status().busy);
    bench.seconds += 0.2;
    bench.worker.step();
    if (within)
    {
        // The job is with the audio thread; the first block that comes again falls silent at once.
        const auto before = bench.host.outLeft.size();
        bench.host.block(64);
        CHECK(bench.host.loudestFrom(before) == 0.0f);
        bench.worker.step();
    }
    REQUIRE(bench.worker.status().latest != nullptr);
    CHECK(bench.worker.status().latest->problem->code == "host-stopped");
    CHECK_FALSE(bench.worker.status().busy);
}

TEST_CASE("An armed take waits for its start as long as it likes")
{
    Bench bench;
    bench.worker.setSessionRate(48000.0);
    auto wanted = Bench::request();
    wanted.startAtOnce = false;
    REQUIRE_FALSE(bench.worker.request(wanted));
    bench.worker.step();
    bench.host.block(64);
    bench.seconds += 3600.0;
    bench.worker.step();
    CHECK(bench.worker.status().phase == TakePhase::armed);
    bench.host.runner.start();
    bench.host.until(
        [&]
        {
            bench.worker.step();
            return bench.worker.status().latest != nullptr;
        });
    CHECK(bench.worker.status().latest->analysis != nullptr);
}

TEST_CASE("Progress and time left follow the stream")
{
    Bench bench;
    bench.worker.setSessionRate(48000.0);
    REQUIRE_FALSE(bench.worker.request(Bench::request()));
    bench.worker.step();
    bench.host.until([&] { return bench.host.runner.position() >= 96000; });
    const auto status = bench.worker.status();
    const auto stimulus = designStimulus(
        []
        {
            auto s = Bench::request().stimulus;
            s.sampleRateHz = 48000.0;
            return s;
        }());
    // The recording goes on for a while after the stream.
    const double total = static_cast<double>(stimulus->totalSamples) + 48000.0 * latencyAllowanceSeconds;
    const double position = static_cast<double>(bench.host.runner.position());
    CHECK(status.phase == TakePhase::taking);
    CHECK(status.progress == Approx(position / total));
    CHECK(status.secondsLeft == Approx((total - position) / 48000.0));
}
