// What could pass here for the wrong reason: threads that never plan at the same time. All start from one
// barrier and plan lengths that the others plan too.

#include "Dsp/Fft.h"

#include <atomic>
#include <barrier>
#include <catch2/catch.hpp>
#include <thread>

using namespace plumbline;

TEST_CASE("Several threads may plan, learn and transform at once")
{
    constexpr int threads = 4, rounds = 12;
    std::barrier start(threads);
    std::atomic<int> wrong{ 0 };
    auto work = [&](int self)
    {
        start.arrive_and_wait();
        for (int round = 0; round < rounds; ++round)
        {
            const auto length = static_cast<std::size_t>(64 << ((round + self) % 6));
            SpectrumBuffer buffer(length);
            buffer.samples()[0] = 1.0;
            buffer.forward();
            for (std::size_t k = 0; k < buffer.binCount(); ++k)
                if (std::abs(buffer.bins()[k] - 1.0) > 1e-12)
                    ++wrong;
            if (self == 0)
                Fft::tune(length, 0.01);
        }
    };
    std::vector<std::thread> running;
    for (int i = 0; i < threads; ++i)
        running.emplace_back(work, i);
    for (auto& thread : running)
        thread.join();
    CHECK(wrong == 0);
}
