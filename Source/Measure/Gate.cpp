#include "Measure/Gate.h"

#include "Dsp/Windows.h"

#include <algorithm>
#include <cmath>

namespace plumbline
{

double Gate::energy() const noexcept
{
    // The mean of a squared half-cosine is 3/8.
    return static_cast<double>(flatSamples) + 0.375 * static_cast<double>(riseSamples + fallSamples);
}

void Gate::apply(std::span<double> samples) const noexcept
{
    fadeIn(samples, riseSamples);
    fadeOut(samples, fallSamples);
}

namespace
{
Gate gateOfLength(const GateLimits& limits, std::size_t after)
{
    const auto arrival = static_cast<std::ptrdiff_t>(std::floor(limits.arrivalSamples));
    Gate gate;
    gate.firstSample = arrival - static_cast<std::ptrdiff_t>(limits.before);
    gate.riseSamples = limits.before / 2;
    gate.fallSamples = after / 5;
    gate.flatSamples = limits.before - gate.riseSamples + after - gate.fallSamples;
    return gate;
}
}

Gate fixedGate(const GateLimits& limits, double milliseconds, double sampleRateHz)
{
    const auto wanted =
        static_cast<std::size_t>(std::max(1.0, std::round(milliseconds / 1000.0 * sampleRateHz)));
    GateLimits short_ = limits;
    short_.before =
        std::min(limits.before, std::max<std::size_t>(wanted / 4, 1)); // no wider than the gate itself
    return gateOfLength(short_, std::min(wanted, limits.after));
}

Gate automaticGate(const ImpulseResponse& response, const GateLimits& limits, double noisePower)
{
    const auto step = static_cast<std::size_t>(std::lround(0.010 * response.sampleRateHz()));
    const auto least = std::min(15 * step, limits.after);
    const auto arrival = static_cast<std::ptrdiff_t>(std::floor(limits.arrivalSamples));
    double loudest = 0.0;
    std::size_t end = 0;
    for (std::size_t from = 0; from + step <= limits.after; from += step)
    {
        double power = 0.0;
        for (std::size_t i = 0; i < step; ++i)
        {
            const double h = response.at(arrival + static_cast<std::ptrdiff_t>(from + i));
            power += h * h;
        }
        power /= static_cast<double>(step);
        loudest = std::max(loudest, power);
        if (power <= std::max(4.0 * noisePower, 1e-9 * loudest))
            break;
        end = from + step;
    }
    // The fall of the gate lies after the decay's end, so that the decay itself is kept whole.
    return gateOfLength(limits, std::min(limits.after, std::max(least, end + end / 4)));
}

}
