#pragma once

#include "Realtime/TakeJob.h"

#include <span>

namespace plumbline
{

/** [audio] Watches what comes back and says when a take must stop.

    - not finite: any value that is not a number;
    - overload: three samples in a row at full scale;
    - runaway: in a silence of the stimulus (from 0.3 s after it fell silent, so that what was played is over)
      three windows of 20 ms that each rise by 2 dB, the last over -30 dBFS; or at any time a window over -4
      dBFS rms, near the loudest that a full-scale sine can be.

    The figures are our own choice. */
class ReturnGuard
{
public:
    void prepare(double sampleRateHz) noexcept;
    void reset() noexcept;

    /** @param stimulusSilent nothing is played during these samples
        @return StopCause::none while all is well */
    StopCause watch(std::span<const float> microphone, bool stimulusSilent) noexcept;

private:
    StopCause closeWindow() noexcept;

    int windowSamples = 960, quietBeforeWatch = 14400;
    int inWindow = 0, atFullScale = 0, quietFor = 0, rises = 0;
    double energy = 0.0, lastPower = 0.0;
};

}
