#pragma once

#include <cstdlib>

namespace plumbline
{

/** Only in builds made with PLUMBLINE_TEST_HOOKS, never in one that is given to anybody: stands in for a host
    that cannot see the plugin's parameters. The environment's PLUMBLINE_TEST_START_AFTER says after how many
    seconds of audio the armed take is asked for, once. */
class TestHook
{
public:
    TestHook()
    {
        if (const char* after = std::getenv("PLUMBLINE_TEST_START_AFTER"))
            secondsLeft = std::atof(after);
    }

    /** [audio] @return true in every block from the time that was asked for until done() */
    bool isDue(int frames, double sampleRateHz) noexcept
    {
        if (secondsLeft > 0.0 && sampleRateHz > 0.0)
            secondsLeft -= frames / sampleRateHz;
        return !over && secondsLeft <= 0.0;
    }

    /** [audio] */
    void done() noexcept { over = true; }

private:
    double secondsLeft = 1e9;
    bool over = false;
};

}
