// What could pass here for the wrong reason: threads that never meet. Two run freely against each other;
// every job carries a number in all its samples, so that a torn or early hand-over is seen. Run under the
// thread sanitizer too.

#include "Support/RunnerHost.h"

#include <atomic>
#include <catch2/catch.hpp>
#include <thread>

using namespace plumbline;

TEST_CASE("Jobs cross to the audio thread and back whole")
{
    TakeRunner runner;
    runner.prepare(48000.0);
    std::atomic<bool> over{ false };
    std::thread audio(
        [&]
        {
            std::vector<float> left(512), right(512), microphone(512, 0.5f), reference(512, 0.25f);
            while (!over.load())
            {
                TakeBlock block;
                block.main = { left.data(), right.data() };
                block.returned = { microphone.data(), reference.data() };
                block.frames = 512;
                runner.process(block);
            }
        });
    int torn = 0, completed = 0, stopped = 0;
    for (int round = 0; round < 40; ++round)
    {
        auto job = std::make_unique<TakeJob>(test::plainJob(1000));
        REQUIRE(runner.offer(*job));
        runner.start();
        if (round % 4 == 3)
            runner.stop();
        TakeJob* back = nullptr;
        while (back == nullptr)
            back = runner.collect();
        torn += back == job.get() ? 0 : 1;
        completed += back->complete() ? 1 : 0;
        stopped += back->cause == StopCause::asked ? 1 : 0;
        for (std::size_t i = 0; i < back->recorded; ++i)
            torn += back->microphone[i] == 0.5f && back->reference[i] == 0.25f ? 0 : 1;
        static_cast<void>(runner.takeReturnPeak(0));
        static_cast<void>(runner.position());
    }
    over = true;
    audio.join();
    CHECK(torn == 0);
    CHECK(completed == 30);
    CHECK(stopped == 10);
}
