// The trap is the proof of every other test that arms it, so it is shown here to see each kind of call, also
// from inside shared libraries. What could pass for the wrong reason: the compiler removing a `new` and its
// `delete` as a pair (everything goes through volatile), a trap that is never armed (each case also counts),
// a trap that sees nothing at all (the first case), and a count that comes from another thread (the
// two-thread cases).

#include "Support/RealtimeTrap.h"
#include "Dsp/Fft.h"

#include <algorithm>
#include <atomic>
#include <catch2/catch.hpp>
#include <cerrno>
#include <chrono>
#include <cmath>
#include <condition_variable>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <fcntl.h>
#include <fstream>
#include <functional>
#include <linux/futex.h>
#include <memory>
#include <mutex>
#include <semaphore.h>
#include <shared_mutex>
#include <stdexcept>
#include <string>
#include <sys/stat.h>
#include <sys/syscall.h>
#include <thread>
#include <unistd.h>
#include <vector>

using plumbline::ScopedRealtimeTrap;
using plumbline::trapIsActive;
using plumbline::whyTrapIsOff;

namespace
{

struct Counted
{
    std::size_t violations;
    std::string report;
};

Counted watch(const std::function<void()>& act)
{
    ScopedRealtimeTrap trap;
    act();
    trap.disarm();
    return { trap.violations(), trap.report() };
}

/** Checks that the act was seen under this name, and that there were at least `atLeast` calls. No test macro
   in the act: it would be seen too. */
void expectSeen(const char* name, std::size_t atLeast, const std::function<void()>& act)
{
    const auto counted = watch(act);
    INFO(name << ": " << counted.report);
    CHECK(counted.violations >= atLeast);
    CHECK(counted.report.find(std::string("\n  ") + name + " from") != std::string::npos);
}

bool skipped()
{
    if (trapIsActive())
        return false;
    WARN(whyTrapIsOff());
    return true;
}

void* volatile kept = nullptr; // volatile: the compiler may not drop what goes through it

void giveBack(void* memory)
{
    kept = memory;
    std::free(kept);
}

std::string scratchFile()
{
    std::string name = "/tmp/plumbline-trap-XXXXXX";
    const int file = mkstemp(name.data());
    REQUIRE(file >= 0);
    close(file);
    return name;
}

}

TEST_CASE("the real-time trap works wherever it is built in", "[trap]")
{
    CHECK(trapIsActive() == (PLUMBLINE_TRAP_BUILT == 1));
    CHECK(whyTrapIsOff().empty() == trapIsActive());
}

TEST_CASE("the real-time trap sees memory being taken", "[trap]")
{
    if (skipped())
        return;
    expectSeen("malloc", 2,
               []
               {
                   kept = new char[100];
                   delete[] static_cast<char*>(kept);
               });
    expectSeen("malloc", 2, [] { giveBack(std::malloc(100)); });
    expectSeen("calloc", 2, [] { giveBack(std::calloc(10, 10)); });
    kept = std::malloc(100); // given something, or the compiler makes it a malloc
    expectSeen("realloc", 2, [] { giveBack(std::realloc(kept, 100'000)); });
    expectSeen("aligned_alloc", 2, [] { giveBack(std::aligned_alloc(64, 128)); });
    expectSeen("posix_memalign", 2,
               []
               {
                   void* memory = nullptr;
                   if (posix_memalign(&memory, 64, 128) == 0)
                       giveBack(memory);
               });
    expectSeen("aligned_alloc", 2,
               []
               {
                   plumbline::AlignedVector<double> aligned(16);
                   kept = aligned.data();
               });
}

TEST_CASE("the real-time trap sees memory being given back", "[trap]")
{
    if (skipped())
        return;
    kept = std::malloc(100);
    expectSeen("free", 1, [] { std::free(kept); });
    auto owner = std::make_unique<std::vector<double>>(1000);
    expectSeen("free", 2, [&] { owner.reset(); });
    CHECK(watch([] { std::free(nullptr); }).violations == 0);
}

TEST_CASE("the real-time trap sees memory taken behind the library's back", "[trap]")
{
    if (skipped())
        return;
    std::vector<double> grown(4);
    expectSeen("malloc", 2,
               [&] { grown.resize(grown.capacity() + 1); }); // the new block, and the old one freed
    std::string text;
    expectSeen("malloc", 1, [&] { text.assign(200, 'x'); });
    expectSeen("malloc", 1,
               []
               {
                   try
                   {
                       throw std::runtime_error("seen");
                   }
                   catch (const std::exception& error)
                   {
                       kept = const_cast<char*>(error.what());
                   }
               });
    expectSeen("malloc", 2, [] { giveBack(strdup("inside the C library")); });
}

TEST_CASE("the real-time trap sees a transform being planned, and passes one being run", "[trap]")
{
    if (skipped())
        return;
    CHECK(watch([] { plumbline::Fft::ofLength(3 * 128); }).violations > 10); // FFTW's planner and our cache

    plumbline::SpectrumBuffer buffer(1024);
    buffer.samples()[1] = 1.0;
    const auto counted = watch([&] { buffer.forward(); });
    INFO(counted.report);
    CHECK(counted.violations == 0);
    CHECK(std::abs(buffer.bins()[256]) == Approx(1.0)); // it did run: a shifted impulse is flat
}

TEST_CASE("the real-time trap sees locks and waits", "[trap]")
{
    if (skipped())
        return;
    std::mutex mutex;
    expectSeen("pthread_mutex_lock", 1, [&] { std::scoped_lock lock(mutex); });
    expectSeen("pthread_mutex_trylock", 1, [&] { std::unique_lock lock(mutex, std::try_to_lock); });
    std::shared_mutex shared;
    expectSeen("pthread_rwlock_rdlock", 1, [&] { std::shared_lock lock(shared); });
    expectSeen("pthread_rwlock_wrlock", 1, [&] { std::unique_lock lock(shared); });

    // Waits that are over before they begin: the deadline lies in the past, the semaphore is open.
    std::condition_variable condition;
    std::unique_lock lock(mutex);
    const auto past = [](auto clock) { return decltype(clock)::now() - std::chrono::seconds(1); };
    expectSeen("pthread_cond_clockwait", 1,
               [&] { condition.wait_until(lock, past(std::chrono::steady_clock{})); });
    expectSeen("pthread_cond_timedwait", 1,
               [&] { condition.wait_until(lock, past(std::chrono::system_clock{})); });
    sem_t semaphore;
    REQUIRE(sem_init(&semaphore, 0, 1) == 0);
    expectSeen("sem_wait", 1, [&] { sem_wait(&semaphore); });
    sem_destroy(&semaphore);
    const timespec nothing{};
    expectSeen("nanosleep", 1, [&] { nanosleep(&nothing, nullptr); });
    expectSeen("sched_yield", 1, [] { std::this_thread::yield(); });
    expectSeen("pthread_create", 1, [] { std::thread([] {}).join(); });
}

TEST_CASE("the real-time trap sees calls made straight to the kernel, as waiting on an atomic does", "[trap]")
{
    if (skipped())
        return;
    // Waits only if the word holds 1; it holds 0, so this is back at once.
    std::uint32_t word = 0;
    long result = 0;
    expectSeen("syscall", 1, [&] { result = syscall(SYS_futex, &word, FUTEX_WAIT_PRIVATE, 1, nullptr); });
    CHECK(result == -1);
}

TEST_CASE("the real-time trap sees files being opened, read, written and closed", "[trap]")
{
    if (skipped())
        return;
    const std::string name = scratchFile();
    int file = -1;
    char letter = 'x';
    ssize_t done = -1;
    expectSeen("open", 1, [&] { file = open(name.c_str(), O_RDWR | O_CREAT, 0600); });
    REQUIRE(file >= 0);
    expectSeen("write", 1, [&] { done = write(file, &letter, 1); });
    expectSeen("fsync", 1, [&] { fsync(file); });
    expectSeen("read", 1, [&] { done = read(file, &letter, 1); });
    expectSeen("close", 1, [&] { close(file); });
    expectSeen("openat", 1, [&] { file = openat(AT_FDCWD, name.c_str(), O_RDONLY); });
    close(file);

    std::FILE* stream = nullptr;
    expectSeen("fopen", 1, [&] { stream = std::fopen(name.c_str(), "w"); });
    REQUIRE(stream != nullptr);
    expectSeen("vfprintf", 1, [&] { std::fprintf(stream, "%d", letter); });
    expectSeen("fwrite", 1, [&] { done = static_cast<ssize_t>(std::fwrite(&letter, 1, 1, stream)); });
    expectSeen("fclose", 1, [&] { std::fclose(stream); });
    CHECK(watch([&] { std::ofstream(name) << "through the C++ library"; }).violations >= 3);
    expectSeen("unlink", 1, [&] { unlink(name.c_str()); });
}

TEST_CASE("the real-time trap lets arithmetic, copies and atomics pass", "[trap]")
{
    if (skipped())
        return;
    std::vector<double> from(1000, 0.5), to(1000);
    std::atomic<double> sum{ 0.0 };
    std::atomic_flag taken = ATOMIC_FLAG_INIT;
    std::shared_ptr<int> shared = std::make_shared<int>(3);
    const auto counted = watch(
        [&]
        {
            std::memcpy(to.data(), from.data(), from.size() * sizeof(double));
            for (double& value : to)
                value = std::sin(value) * std::exp(-value) + std::pow(value, 1.5);
            for (double value : to)
                sum.fetch_add(value, std::memory_order_relaxed);
            taken.test_and_set(std::memory_order_acquire);
            const auto copy = shared; // counts up and down, frees nothing
            to[0] += *copy;
        });
    INFO(counted.report);
    CHECK(counted.violations == 0);
    const double each = std::sin(0.5) * std::exp(-0.5) + std::pow(0.5, 1.5);
    CHECK(sum.load() == Approx(1000.0 * each));
}

TEST_CASE("the real-time trap counts only the thread that armed it", "[trap]")
{
    if (skipped())
        return;

    enum Stage
    {
        starting,
        armed,
        allocated
    };

    std::atomic<int> stage{ starting };
    std::size_t seenByOther = 0;
    std::thread other(
        [&]
        {
            while (stage.load() != armed)
            {
            }
            ScopedRealtimeTrap own;
            for (int i = 0; i < 100; ++i)
                giveBack(std::malloc(50));
            own.disarm();
            seenByOther = own.violations();
            giveBack(std::malloc(50)); // with no trap on this thread, and one on the other
            stage.store(allocated);
        });
    ScopedRealtimeTrap trap;
    stage.store(armed);
    while (stage.load() != allocated)
    {
    }
    trap.disarm();
    other.join();
    INFO(trap.report());
    CHECK(trap.violations() == 0);
    CHECK(seenByOther == 200);
}

TEST_CASE("the real-time trap counts only between arming and disarming, and each trap its own", "[trap]")
{
    if (skipped())
        return;
    const auto allocate = [] { giveBack(std::malloc(50)); };
    ScopedRealtimeTrap trap;
    trap.disarm();
    allocate();
    CHECK(trap.violations() == 0);
    CHECK(trap.report() == "no forbidden call");
    trap.arm();
    allocate();
    const auto inner = watch(allocate).violations; // its report and this vector of frames are not counted
    trap.disarm();
    CHECK(inner == 2);
    const auto before = trap.violations();
    CHECK(before >= 2);
    trap.arm();
    allocate();
    trap.disarm();
    CHECK(trap.violations() == before + 2);
}

TEST_CASE("the real-time trap says how many calls there were and names the first few", "[trap]")
{
    if (skipped())
        return;
    std::mutex mutex;
    const auto counted = watch(
        [&]
        {
            {
                std::scoped_lock lock(mutex);
            }
            for (int i = 0; i < 500; ++i)
                giveBack(std::malloc(50));
        });
    CHECK(counted.violations == 1001);
    CHECK(counted.report.rfind("1001 forbidden calls; the first:\n  pthread_mutex_lock from\n", 0) == 0);
    CHECK(counted.report.find("\n  malloc from") != std::string::npos);
    CHECK(counted.report.size() < 10'000);
}

TEST_CASE("the real-time trap changes nothing in what the calls do", "[trap]")
{
    if (skipped())
        return;
    void* memory = nullptr;
    CHECK(posix_memalign(&memory, 3, 100) == EINVAL);
    CHECK(posix_memalign(&memory, 4096, 100) == 0);
    CHECK(reinterpret_cast<std::uintptr_t>(memory) % 4096 == 0);
    std::free(memory);
    auto* zeros = static_cast<unsigned char*>(std::calloc(100, 10));
    CHECK(std::count(zeros, zeros + 1000, 0) == 1000);
    std::free(zeros);

    ScopedRealtimeTrap trap;
    errno = 0;
    const int file = open("/nowhere/at/all", O_RDONLY);
    const int error = errno;
    trap.disarm();
    CHECK(file == -1);
    CHECK(error == ENOENT);
    CHECK(trap.violations() == 1);

    const std::string name = scratchFile();
    unlink(name.c_str());
    const int made = open(name.c_str(), O_WRONLY | O_CREAT | O_EXCL, 0640); // the mode is passed on

    struct stat facts
    {
    };

    CHECK(fstat(made, &facts) == 0);
    CHECK((facts.st_mode & 0777 & ~0640u) == 0);
    CHECK((facts.st_mode & 0600) == 0600);
    close(made);
    unlink(name.c_str());
}
