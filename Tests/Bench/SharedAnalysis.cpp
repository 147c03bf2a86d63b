// The analysis as a shared library, so that Python can time it and SciPy in turn within one process. For
// analysis_scipy.py alone; built with the benchmarks only.
#include "BenchTake.h"
#include "MeasuredPlans.h"

#include <algorithm>

using namespace plumbline;

namespace
{
const Stimulus& stimulus()
{
    static const Stimulus exact = bench::exactStimulus();
    return exact;
}

Capture& take()
{
    static Capture capture;
    return capture;
}
}

#define PLUMBLINE_BENCH_API extern "C" __attribute__((visibility("default")))

/** Samples of the whole stream, starts of the left and right sweep, samples of a sweep and of a segment. */
PLUMBLINE_BENCH_API void plumbline_bench_layout(long long* five)
{
    const auto& s = stimulus();
    const std::size_t numbers[] = { s.totalSamples, s.leftStart, *s.rightStart, s.sweep.samples,
                                    s.segmentSamples() };
    for (std::size_t i = 0; i < 5; ++i)
        five[i] = static_cast<long long>(numbers[i]);
}

/** The sweep as it is played. */
PLUMBLINE_BENCH_API void plumbline_bench_sweep(float* samples)
{
    const auto played = playedSweep(stimulus());
    std::copy(played.begin(), played.end(), samples);
}

/** To be called before the first analysis, if at all. */
PLUMBLINE_BENCH_API void plumbline_bench_measure_plans(const char* wisdomFile)
{
    bench::measurePlans(wisdomFile,
                        { stimulus().segmentSamples(), std::size_t{ 1 } << 16, std::size_t{ 1 } << 17 });
}

/** Takes both channels of the whole stream over. */
PLUMBLINE_BENCH_API void plumbline_bench_prepare(const float* microphone, const float* reference)
{
    const auto total = stimulus().totalSamples;
    take() = { stimulus(), { microphone, microphone + total }, { reference, reference + total }, 0 };
}

/** @param levelDb room for 1000 values: the left's curve
    @param timing two values: milliseconds looked at after the arrival, travel time in samples
    @return points of the curve, or -1 if the take could not be analysed */
PLUMBLINE_BENCH_API int plumbline_bench_analyse(double* levelDb, double* timing)
{
    const auto analysis = analyseTake(take(), {});
    if (!analysis || !analysis->left.heard() || !analysis->right->heard())
        return -1;
    const auto& level = analysis->left.response.levelDb;
    std::copy_n(level.begin(), std::min<std::size_t>(level.size(), 1000), levelDb);
    timing[0] = analysis->left.windowMs;
    timing[1] = *analysis->left.travelTimeSeconds * stimulus().spec.sampleRateHz;
    return static_cast<int>(level.size());
}
