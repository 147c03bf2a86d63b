// What could pass here for the wrong reason: a guard that stops everything. So sound takes are run too: a
// decay, a steady noise, a sweep that rises into a resonance.

#include "Realtime/ReturnGuard.h"

#include "Dsp/Random.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <limits>
#include <vector>

using namespace plumbline;

namespace
{
constexpr double rate = 48000.0;

StopCause watchAll(const std::vector<float>& samples, bool silent)
{
    ReturnGuard guard;
    guard.prepare(rate);
    for (std::size_t i = 0; i < samples.size(); i += 100)
    {
        const auto part = std::span(samples).subspan(i, std::min<std::size_t>(100, samples.size() - i));
        if (const auto cause = guard.watch(part, silent); cause != StopCause::none)
            return cause;
    }
    return StopCause::none;
}

/** Noise whose level changes by so many dB a second. */
std::vector<float> moving(double startDb, double dbPerSecond, double seconds)
{
    Random random(3);
    std::vector<float> samples(static_cast<std::size_t>(seconds * rate));
    for (std::size_t i = 0; i < samples.size(); ++i)
    {
        const double db = startDb + dbPerSecond * static_cast<double>(i) / rate;
        samples[i] = static_cast<float>(std::clamp(std::pow(10.0, db / 20.0) * random.normal(), -0.9, 0.9));
    }
    return samples;
}
}

TEST_CASE("The guard lets a decay, a steady noise and a swelling sweep pass")
{
    CHECK(watchAll(moving(-20.0, -60.0, 1.0), true) == StopCause::none);
    CHECK(watchAll(moving(-25.0, 0.0, 5.0), true) == StopCause::none);
    CHECK(watchAll(moving(-60.0, 300.0, 0.15), false) == StopCause::none);
    CHECK(watchAll(moving(-90.0, 200.0, 0.25), true) == StopCause::none); // grows, but far under -30 dBFS
}

TEST_CASE("The guard sees a Return that grows by itself in a silence")
{
    auto samples = moving(-60.0, 0.0, 0.4);
    const auto growth = moving(-60.0, 200.0, 0.25);
    samples.insert(samples.end(), growth.begin(), growth.end());
    CHECK(watchAll(samples, true) == StopCause::runaway);
}

TEST_CASE("The guard sees a Return near the loudest there is, even while the sweep plays")
{
    std::vector<float> loud(4800);
    for (std::size_t i = 0; i < loud.size(); ++i)
        loud[i] = 0.98f * static_cast<float>(std::sin(0.05 * static_cast<double>(i)));
    CHECK(watchAll(loud, false) == StopCause::runaway);
}

TEST_CASE("The guard sees three samples in a row at full scale, and lets two pass")
{
    std::vector<float> samples(960, 0.0f);
    samples[10] = samples[11] = 1.0f;
    CHECK(watchAll(samples, false) == StopCause::none);
    samples[12] = -1.2f;
    CHECK(watchAll(samples, false) == StopCause::overload);
}

TEST_CASE("The guard sees what is not a number")
{
    for (const float bad :
         { std::numeric_limits<float>::quiet_NaN(), std::numeric_limits<float>::infinity() })
    {
        std::vector<float> samples(960, 0.0f);
        samples[500] = bad;
        CHECK(watchAll(samples, false) == StopCause::notFinite);
    }
}
