#pragma once

#include <algorithm>
#include <cstddef>
#include <cstdio>
#include <ctime>
#include <vector>

namespace plumbline::bench
{

/** CPU time of the calling thread: what other programs do to the machine costs only caches. */
inline double threadCpuSeconds()
{
    timespec now{};
    clock_gettime(CLOCK_THREAD_CPUTIME_ID, &now);
    return static_cast<double>(now.tv_sec) + 1e-9 * static_cast<double>(now.tv_nsec);
}

/** @return thread-CPU seconds of one call */
template <class Work>
double timed(Work&& work)
{
    const double before = threadCpuSeconds();
    work();
    return threadCpuSeconds() - before;
}

struct Quartiles
{
    double lower = 0.0, median = 0.0, upper = 0.0;
};

/** @param values at least one */
inline Quartiles quartilesOf(std::vector<double> values)
{
    std::sort(values.begin(), values.end());
    auto at = [&](double part)
    { return values[static_cast<std::size_t>(part * static_cast<double>(values.size() - 1) + 0.5)]; };
    return { at(0.25), at(0.5), at(0.75) };
}

/** Ratio round by round: what slows both sides of a round cancels. */
inline Quartiles ratiosOf(const std::vector<double>& upper, const std::vector<double>& lower)
{
    std::vector<double> ratios;
    for (std::size_t i = 0; i < upper.size(); ++i)
        ratios.push_back(upper[i] / lower[i]);
    return quartilesOf(ratios);
}

inline const char* verdict(bool met)
{
    return met ? "met" : "MISSED";
}

/** A line of a report: what, median, (lower .. upper quartile). */
inline void print(const char* what, const Quartiles& values, double scale, const char* unit,
                  const char* after = "")
{
    std::printf("  %-40s %9.3f %-3s (%.3f .. %.3f)%s\n", what, scale * values.median, unit,
                scale * values.lower, scale * values.upper, after);
}

}
