#include "Realtime/ReturnGuard.h"

#include <cmath>

namespace plumbline
{

namespace
{
constexpr double windowSeconds = 0.020, settleSeconds = 0.3;
constexpr float fullScale = 1.0f;
constexpr int overloadRun = 3;
constexpr double riseFactor = 1.584893; // 2 dB of power
constexpr int risesThatCount = 3;
constexpr double audiblePower = 1e-3;     // -30 dBFS
constexpr double loudestPower = 0.398107; // -4 dBFS rms
}

void ReturnGuard::prepare(double sampleRateHz) noexcept
{
    windowSamples = static_cast<int>(windowSeconds * sampleRateHz);
    quietBeforeWatch = static_cast<int>(settleSeconds * sampleRateHz);
    reset();
}

void ReturnGuard::reset() noexcept
{
    inWindow = atFullScale = quietFor = rises = 0;
    energy = lastPower = 0.0;
}

StopCause ReturnGuard::closeWindow() noexcept
{
    const double power = energy / windowSamples;
    const bool watching = quietFor >= quietBeforeWatch;
    rises = watching && lastPower > 0.0 && power > riseFactor * lastPower ? rises + 1 : 0;
    lastPower = power;
    energy = 0.0;
    inWindow = 0;
    const bool grows = rises >= risesThatCount && power > audiblePower;
    return grows || power > loudestPower ? StopCause::runaway : StopCause::none;
}

StopCause ReturnGuard::watch(std::span<const float> microphone, bool stimulusSilent) noexcept
{
    for (const float x : microphone)
    {
        if (!std::isfinite(x))
            return StopCause::notFinite;
        atFullScale = std::abs(x) >= fullScale ? atFullScale + 1 : 0;
        if (atFullScale >= overloadRun)
            return StopCause::overload;
        quietFor = stimulusSilent ? quietFor + 1 : 0;
        energy += static_cast<double>(x) * static_cast<double>(x);
        if (++inWindow < windowSamples)
            continue;
        if (const auto cause = closeWindow(); cause != StopCause::none)
            return cause;
    }
    return StopCause::none;
}

}
