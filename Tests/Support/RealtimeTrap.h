#pragma once

#include <array>
#include <cstddef>
#include <string>

// glibc lets a program define these calls itself, and its libraries then call the program's. The address and
// thread sanitizers do the same for themselves, so the trap steps aside for them and says so.
#if !defined(__GLIBC__) || defined(__SANITIZE_ADDRESS__) || defined(__SANITIZE_THREAD__)
#define PLUMBLINE_TRAP_BUILT 0
#elif defined(__has_feature)
#if __has_feature(address_sanitizer) || __has_feature(thread_sanitizer) || __has_feature(memory_sanitizer)
#define PLUMBLINE_TRAP_BUILT 0
#else
#define PLUMBLINE_TRAP_BUILT 1
#endif
#else
#define PLUMBLINE_TRAP_BUILT 1
#endif

namespace plumbline
{

/** True if the trap really sees calls in this process: built in, and proved by a call made inside the C
   library. Where it is false a test must say so (`WARN(whyTrapIsOff())`) and claim nothing. */
bool trapIsActive();

/** One sentence for the test's log; empty if the trap is active. */
std::string whyTrapIsOff();

/** Counts what the audio thread must never call, from arm() (or construction) to disarm() (or the end of the
   scope): allocating, freeing, locking, waiting, sleeping, files, output, making threads. Only calls of the
   thread that armed it are counted, from any library; nothing is stopped or changed.

        ScopedRealtimeTrap trap;
        processor.processBlock(...);
        trap.disarm();
        INFO(trap.report());
        CHECK(trap.violations() == 0);

    Disarm before a test macro: those allocate. One call can count twice where one forbidden function uses
   another (fopen allocates too). A trap armed inside another's scope takes over until it is disarmed.

    It does not see: calls that the C library makes to itself other than to its allocator, system calls
   written in assembler, page faults, and time spent. */
class ScopedRealtimeTrap
{
public:
    ScopedRealtimeTrap();
    ~ScopedRealtimeTrap();
    ScopedRealtimeTrap(const ScopedRealtimeTrap&) = delete;
    ScopedRealtimeTrap& operator=(const ScopedRealtimeTrap&) = delete;

    /** Both belong to the thread that made the trap. Counts add up over several spans. */
    void arm() noexcept;
    void disarm() noexcept;

    std::size_t violations() const noexcept { return violationCount; }

    /** How many calls, the names of the first few, and where each came from (addresses for addr2line). May be
       asked while armed: its own work is not counted. */
    std::string report() const;

    /** For RealtimeTrapCalls.cpp only: counts this call if the calling thread is armed. Keeps errno. */
    static void note(const char* call) noexcept;

private:
    struct Offence
    {
        const char* call = "";
        std::array<void*, 12> frames{};
        int depth = 0;
    };

    void count(const char* call) noexcept;

    std::array<Offence, 6> first;
    std::size_t violationCount = 0;
    ScopedRealtimeTrap* outer = nullptr;
    bool armed = false;
};

}
