#pragma once

/** Before a function with a plain innermost loop: it is compiled several times and runs at the vector width
    of the machine. Left out under sanitizers, whose start-up does not bear it, and where the compiler or the
    system has no such thing. */
#if defined(__GNUC__) && !defined(__clang__) && defined(__x86_64__) && defined(__gnu_linux__) &&             \
    !defined(__SANITIZE_THREAD__) && !defined(__SANITIZE_ADDRESS__)
#define PLUMBLINE_WIDE                                                                                       \
    __attribute__((target_clones("arch=x86-64-v4", "arch=x86-64-v3", "default"), optimize("O3")))
#else
#define PLUMBLINE_WIDE
#endif
