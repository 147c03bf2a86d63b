#include "Entry/Interruption.h"

#include <atomic>
#include <csignal>

namespace plumbline::interruption
{

namespace
{
std::atomic<bool> asked{ false };
static_assert(std::atomic<bool>::is_always_lock_free, "only such an atomic may be set in a signal handler");

extern "C" void leaveNote(int)
{
    asked.store(true, std::memory_order_relaxed);
}
}

void takeOver()
{
    std::signal(SIGINT, leaveNote);
    std::signal(SIGTERM, leaveNote);
#ifdef SIGHUP
    std::signal(SIGHUP, leaveNote);
#endif
}

bool isAsked() noexcept
{
    return asked.load(std::memory_order_relaxed);
}

}
