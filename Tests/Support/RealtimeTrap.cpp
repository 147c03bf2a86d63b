#include "RealtimeTrap.h"

#include <algorithm>
#include <cerrno>
#include <cstdlib>
#include <cstring>

#if PLUMBLINE_TRAP_BUILT
#include <execinfo.h>
#endif

namespace plumbline
{

namespace
{

// Needs no set-up and no heap, because malloc reads it before main and after the last destructor.
thread_local constinit ScopedRealtimeTrap* armedHere = nullptr;

/** Silences the trap of this thread while the trap itself works. */
class Unwatched
{
public:
    Unwatched() noexcept : former(armedHere) { armedHere = nullptr; }

    ~Unwatched() { armedHere = former; }

    Unwatched(const Unwatched&) = delete;
    Unwatched& operator=(const Unwatched&) = delete;

private:
    ScopedRealtimeTrap* former;
};

int callStack(void** frames, int most) noexcept
{
#if PLUMBLINE_TRAP_BUILT
    return backtrace(frames, most);
#else
    static_cast<void>(frames);
    static_cast<void>(most);
    return 0;
#endif
}

std::string describeFrames(void* const* frames, int depth)
{
    std::string text;
#if PLUMBLINE_TRAP_BUILT
    constexpr int ownFrames = 2; // note() and the call itself
    char** lines = backtrace_symbols(frames, depth);
    for (int i = ownFrames; lines != nullptr && i < depth; ++i)
        text += "\n      " + std::string(lines[i]);
    std::free(lines);
#else
    static_cast<void>(frames);
    static_cast<void>(depth);
#endif
    return text;
}

/** strdup allocates inside the C library: if that is seen, every library's calls are. */
bool probe()
{
    ScopedRealtimeTrap trap;
    char* volatile copy = strdup("probe");
    std::free(copy);
    trap.disarm();
    return trap.violations() == 2;
}

}

bool trapIsActive()
{
    static const bool seen = probe();
    return seen;
}

std::string whyTrapIsOff()
{
    if (trapIsActive())
        return {};
    return PLUMBLINE_TRAP_BUILT
               ? "The real-time trap is built in but sees nothing: this test proves nothing."
               : "The real-time trap needs glibc and no sanitizer: nothing was checked here.";
}

ScopedRealtimeTrap::ScopedRealtimeTrap()
{
    callStack(first.front().frames.data(), 1); // the first call of all loads the unwinder
    arm();
}

ScopedRealtimeTrap::~ScopedRealtimeTrap()
{
    disarm();
}

void ScopedRealtimeTrap::arm() noexcept
{
    if (armed)
        return;
    armed = true;
    outer = armedHere;
    armedHere = this;
}

void ScopedRealtimeTrap::disarm() noexcept
{
    if (!armed)
        return;
    armed = false;
    armedHere = outer;
}

void ScopedRealtimeTrap::count(const char* call) noexcept
{
    if (violationCount < first.size())
    {
        auto& offence = first[violationCount];
        offence.call = call;
        offence.depth = callStack(offence.frames.data(), static_cast<int>(offence.frames.size()));
    }
    ++violationCount;
}

[[gnu::noinline]] void ScopedRealtimeTrap::note(const char* call) noexcept
{
    if (armedHere == nullptr)
        return;
    const int kept = errno;
    auto* trap = armedHere;
    const Unwatched unwatched;
    trap->count(call);
    errno = kept;
}

std::string ScopedRealtimeTrap::report() const
{
    const Unwatched unwatched;
    if (violationCount == 0)
        return "no forbidden call";
    std::string text = std::to_string(violationCount) +
                       (violationCount == 1 ? " forbidden call" : " forbidden calls") + "; the first:";
    for (std::size_t i = 0; i < std::min(violationCount, first.size()); ++i)
        text += "\n  " + std::string(first[i].call) + " from" +
                describeFrames(first[i].frames.data(), first[i].depth);
    return text;
}

}
