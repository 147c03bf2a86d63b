#pragma once

#include <cstddef>

namespace plumbline
{

/** [audio] Tells when the host's parameter goes from off to on. A parameter that is already on when the session
    begins, or when a take is armed, starts nothing: it must be let go first. */
class HostTrigger
{
public:
    bool risen(bool on) noexcept
    {
        const bool rose = on && !before;
        before = on;
        return rose;
    }

private:
    bool before = true;
};

}
