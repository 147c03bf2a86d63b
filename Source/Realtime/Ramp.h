#pragma once

#include <algorithm>
#include <cmath>

namespace plumbline
{

/** [audio] A gain that moves in a straight line to where it is sent. */
class Ramp
{
public:
    void jumpTo(float value) noexcept { now = target = value; }

    /** @param samples of a whole way from 0 to 1 */
    void moveTo(float value, double samples) noexcept
    {
        target = value;
        step = static_cast<float>(1.0 / std::max(samples, 1.0));
    }

    float next() noexcept
    {
        now = now < target ? std::min(now + step, target) : std::max(now - step, target);
        return now;
    }

    float value() const noexcept { return now; }

    bool arrived() const noexcept { return now == target; }

private:
    float now = 1.0f, target = 1.0f, step = 1.0f;
};

}
