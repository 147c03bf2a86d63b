// The calls that the trap sees, defined in the test program itself: glibc's dynamic linker then gives them to
// every library too. Each notes its name and does what the C library's does.

// Without this the headers of a hardening compiler would define some of them here already.
#undef _FORTIFY_SOURCE

#include "RealtimeTrap.h"

#if PLUMBLINE_TRAP_BUILT

#include <atomic>
#include <cerrno>
#include <cstdarg>
#include <cstdio>
#include <cstdlib>
#include <dlfcn.h>
#include <fcntl.h>
#include <gnu/lib-names.h>
#include <malloc.h>
#include <poll.h>
#include <pthread.h>
#include <sched.h>
#include <semaphore.h>
#include <sys/mman.h>
#include <sys/select.h>
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>

namespace
{

void note(const char* call) noexcept
{
    plumbline::ScopedRealtimeTrap::note(call);
}

/** Where the C library keeps the function of this name. Asked of the library's own handle: RTLD_NEXT would
   give the oldest version of a symbol, and the condition variables of 2001 are not those of today. */
struct Real
{
    const char* name;
    std::atomic<void*> address{ nullptr };

    void* find() noexcept
    {
        if (void* known = address.load(std::memory_order_acquire))
            return known;
        void* library = dlopen(LIBC_SO, RTLD_LAZY | RTLD_NOLOAD);
        void* found = library == nullptr ? nullptr : dlsym(library, name);
        if (found == nullptr)
            std::abort();
        address.store(found, std::memory_order_release);
        return found;
    }
};

}

// The allocator: the C library offers its own under second names, so that nothing need be looked up, which
// would itself allocate.
extern "C"
{
#define SEEN __attribute__((visibility("default")))

    void* __libc_malloc(size_t);
    void* __libc_calloc(size_t, size_t);
    void* __libc_realloc(void*, size_t);
    void* __libc_memalign(size_t, size_t);
    void* __libc_valloc(size_t);
    void __libc_free(void*);

    SEEN void* malloc(size_t size) noexcept
    {
        note("malloc");
        return __libc_malloc(size);
    }

    SEEN void* calloc(size_t count, size_t size) noexcept
    {
        note("calloc");
        return __libc_calloc(count, size);
    }

    SEEN void* realloc(void* memory, size_t size) noexcept
    {
        note("realloc");
        return __libc_realloc(memory, size);
    }

    SEEN void free(void* memory) noexcept
    {
        if (memory != nullptr) // freeing nothing does nothing
            note("free");
        __libc_free(memory);
    }

    SEEN void* memalign(size_t alignment, size_t size) noexcept
    {
        note("memalign");
        return __libc_memalign(alignment, size);
    }

    SEEN void* aligned_alloc(size_t alignment, size_t size) noexcept
    {
        note("aligned_alloc");
        return __libc_memalign(alignment, size);
    }

    SEEN void* valloc(size_t size) noexcept
    {
        note("valloc");
        return __libc_valloc(size);
    }

    SEEN int posix_memalign(void** memory, size_t alignment, size_t size) noexcept
    {
        note("posix_memalign");
        if (alignment % sizeof(void*) != 0 || alignment == 0 || (alignment & (alignment - 1)) != 0)
            return EINVAL;
        void* found = __libc_memalign(alignment, size);
        if (found == nullptr)
            return ENOMEM;
        *memory = found;
        return 0;
    }
}

// clang-format off
// X(result, name, parameters, arguments, exception specification as in the C library's header)
#define PLUMBLINE_TRAPPED_CALLS(X) \
    X(int, pthread_mutex_lock, (pthread_mutex_t* a), (a), noexcept) \
    X(int, pthread_mutex_trylock, (pthread_mutex_t* a), (a), noexcept) \
    X(int, pthread_mutex_timedlock, (pthread_mutex_t* a, const timespec* b), (a, b), noexcept) \
    X(int, pthread_mutex_clocklock, (pthread_mutex_t* a, clockid_t b, const timespec* c), (a, b, c), noexcept) \
    X(int, pthread_rwlock_rdlock, (pthread_rwlock_t* a), (a), noexcept) \
    X(int, pthread_rwlock_wrlock, (pthread_rwlock_t* a), (a), noexcept) \
    X(int, pthread_rwlock_tryrdlock, (pthread_rwlock_t* a), (a), noexcept) \
    X(int, pthread_rwlock_trywrlock, (pthread_rwlock_t* a), (a), noexcept) \
    X(int, pthread_cond_wait, (pthread_cond_t* a, pthread_mutex_t* b), (a, b), ) \
    X(int, pthread_cond_timedwait, (pthread_cond_t* a, pthread_mutex_t* b, const timespec* c), (a, b, c), ) \
    X(int, pthread_cond_clockwait, (pthread_cond_t* a, pthread_mutex_t* b, clockid_t c, const timespec* d), (a, b, c, d), ) \
    X(int, pthread_create, (pthread_t* a, const pthread_attr_t* b, void* (*c)(void*), void* d), (a, b, c, d), noexcept) \
    X(int, pthread_join, (pthread_t a, void** b), (a, b), ) \
    X(int, sem_wait, (sem_t* a), (a), ) \
    X(int, sem_timedwait, (sem_t* a, const timespec* b), (a, b), ) \
    X(int, nanosleep, (const timespec* a, timespec* b), (a, b), ) \
    X(int, clock_nanosleep, (clockid_t a, int b, const timespec* c, timespec* d), (a, b, c, d), ) \
    X(int, usleep, (useconds_t a), (a), ) \
    X(int, sched_yield, (), (), noexcept) \
    X(int, poll, (pollfd* a, nfds_t b, int c), (a, b, c), ) \
    X(int, select, (int a, fd_set* b, fd_set* c, fd_set* d, timeval* e), (a, b, c, d, e), ) \
    X(FILE*, fopen, (const char* a, const char* b), (a, b), ) \
    X(FILE*, fopen64, (const char* a, const char* b), (a, b), ) \
    X(int, fclose, (FILE* a), (a), ) \
    X(int, fflush, (FILE* a), (a), ) \
    X(size_t, fread, (void* a, size_t b, size_t c, FILE* d), (a, b, c, d), ) \
    X(size_t, fwrite, (const void* a, size_t b, size_t c, FILE* d), (a, b, c, d), ) \
    X(int, fputs, (const char* a, FILE* b), (a, b), ) \
    X(int, puts, (const char* a), (a), ) \
    X(int, vfprintf, (FILE* a, const char* b, va_list c), (a, b, c), ) \
    X(ssize_t, read, (int a, void* b, size_t c), (a, b, c), ) \
    X(ssize_t, write, (int a, const void* b, size_t c), (a, b, c), ) \
    X(int, fsync, (int a), (a), ) \
    X(int, fdatasync, (int a), (a), ) \
    X(int, close, (int a), (a), ) \
    X(int, rename, (const char* a, const char* b), (a, b), noexcept) \
    X(int, unlink, (const char* a), (a), noexcept) \
    X(int, mkdir, (const char* a, mode_t b), (a, b), noexcept) \
    X(void*, mmap, (void* a, size_t b, int c, int d, int e, off_t f), (a, b, c, d, e, f), noexcept) \
    X(int, munmap, (void* a, size_t b), (a, b), noexcept)

#define PLUMBLINE_TRAP(result, name, parameters, arguments, specification)      \
    namespace { constinit Real real_##name { #name }; }                         \
    extern "C" SEEN result name parameters specification                        \
    {                                                                           \
        note(#name);                                                            \
        return reinterpret_cast<decltype(&name)>(real_##name.find()) arguments; \
    }
PLUMBLINE_TRAPPED_CALLS(PLUMBLINE_TRAP)

// clang-format on

// Those with a variable number of arguments pass on the most that they can have.
namespace
{

constinit Real realOpen{ "open" }, realOpen64{ "open64" }, realOpenat{ "openat" }, realOpenat64{ "openat64" };
constinit Real realSyscall{ "syscall" };

mode_t modeOf(int flags, va_list more) noexcept
{
    return (flags & (O_CREAT | __O_TMPFILE)) != 0 ? va_arg(more, mode_t) : 0;
}

}

extern "C"
{
#define PLUMBLINE_TRAP_OPEN(name, real)                                                                      \
    SEEN int name(const char* path, int flags, ...)                                                          \
    {                                                                                                        \
        note(#name);                                                                                         \
        va_list more;                                                                                        \
        va_start(more, flags);                                                                               \
        const mode_t mode = modeOf(flags, more);                                                             \
        va_end(more);                                                                                        \
        return reinterpret_cast<int (*)(const char*, int, ...)>(real.find())(path, flags, mode);             \
    }
    PLUMBLINE_TRAP_OPEN(open, realOpen)
    PLUMBLINE_TRAP_OPEN(open64, realOpen64)

#define PLUMBLINE_TRAP_OPENAT(name, real)                                                                    \
    SEEN int name(int folder, const char* path, int flags, ...)                                              \
    {                                                                                                        \
        note(#name);                                                                                         \
        va_list more;                                                                                        \
        va_start(more, flags);                                                                               \
        const mode_t mode = modeOf(flags, more);                                                             \
        va_end(more);                                                                                        \
        return reinterpret_cast<int (*)(int, const char*, int, ...)>(real.find())(folder, path, flags,       \
                                                                                  mode);                     \
    }
    PLUMBLINE_TRAP_OPENAT(openat, realOpenat)
    PLUMBLINE_TRAP_OPENAT(openat64, realOpenat64)

    // Waiting on an atomic goes straight to the kernel through this one.
    SEEN long syscall(long number, ...) noexcept
    {
        note("syscall");
        va_list more;
        va_start(more, number);
        long arguments[6];
        for (long& argument : arguments)
            argument = va_arg(more, long);
        va_end(more);
        return reinterpret_cast<long (*)(long, ...)>(realSyscall.find())(
            number, arguments[0], arguments[1], arguments[2], arguments[3], arguments[4], arguments[5]);
    }

    SEEN int printf(const char* format, ...)
    {
        va_list more;
        va_start(more, format);
        const int written = vfprintf(stdout, format, more);
        va_end(more);
        return written;
    }

    SEEN int fprintf(FILE* file, const char* format, ...)
    {
        va_list more;
        va_start(more, format);
        const int written = vfprintf(file, format, more);
        va_end(more);
        return written;
    }

    // What a compiler that hardens by default calls in place of the plain ones.
    int __open_2(const char*, int);
    ssize_t __read_chk(int, void*, size_t, size_t);
    int __fprintf_chk(FILE*, int, const char*, ...);

    SEEN int __open_2(const char* path, int flags)
    {
        return open(path, flags);
    }

    SEEN ssize_t __read_chk(int file, void* to, size_t size, size_t)
    {
        return read(file, to, size);
    }

    SEEN int __fprintf_chk(FILE* file, int, const char* format, ...)
    {
        va_list more;
        va_start(more, format);
        const int written = vfprintf(file, format, more);
        va_end(more);
        return written;
    }
}

namespace
{

/** Before main, so that no look-up falls into an armed span. */
__attribute__((constructor)) void findAll() noexcept
{
#define PLUMBLINE_TRAP_FIND(result, name, parameters, arguments, specification) real_##name.find();
    PLUMBLINE_TRAPPED_CALLS(PLUMBLINE_TRAP_FIND)
    for (Real* real : { &realOpen, &realOpen64, &realOpenat, &realOpenat64, &realSyscall })
        real->find();
}

}

#endif
