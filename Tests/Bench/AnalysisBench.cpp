// CPU time and memory of analysing one stereo take, two captures of 2^19 samples with reference, to its
// 1/12-octave curve.
//
//   plumbline_analysis_bench speed            with FFTW's estimated plans, as on a first run
//   plumbline_analysis_bench speed WISDOM     with measured plans; the file keeps what was measured
//   plumbline_analysis_bench steps [WISDOM]   where the time goes
//   plumbline_analysis_bench memory           largest resident memory over what was there before
//
// What could come out right here for the wrong reason: bare transforms made slow by other plans, or by memory
// that has to be fetched from the system first. So both sides use the transforms of Dsp/Fft with the same
// plans, the bare ones on memory kept and filled beforehand, one round of the one after a round of the other.
#include "AnalysisSteps.h"
#include "BenchTake.h"
#include "MeasuredPlans.h"
#include "ResidentMemory.h"
#include "Timing.h"

#include <cstdlib>
#include <optional>
#include <string_view>

using namespace plumbline;
using namespace plumbline::bench;

namespace
{

constexpr int rounds = 61;
constexpr double deadRoomT60 = 0.2,
                 usualRoomT60 = 0.4; // the first one's gate ends within the least length transformed

TakeAnalysis analysed(const Capture& capture)
{
    auto analysis = analyseTake(capture, {});
    if (!analysis || !analysis->left.heard() || !analysis->right->heard() || analysis->doubtful())
    {
        std::fprintf(stderr, "The benchmark's own take could not be analysed.\n");
        std::exit(1);
    }
    return std::move(*analysis);
}

/** @return ratio of ours to the bare transforms */
Quartiles compare(const Stimulus& stimulus, double t60Seconds)
{
    const Capture capture = roomCapture(stimulus, t60Seconds);
    const auto gated = gatedLength(analysed(capture), stimulus); // plans everything, too
    BareTransforms bare(capture, gated);
    std::vector<double> ours, theirs;
    for (int round = 0; round < rounds; ++round)
    {
        bare.refill();
        theirs.push_back(timed([&] { bare.run(); }));
        ours.push_back(timed([&] { analysed(capture); }));
    }
    std::printf("  room of %.2f s, gate transformed with %zu points, %d rounds:\n", t60Seconds, gated,
                rounds);
    print("ours", quartilesOf(ours), 1e3, "ms");
    print("bare transforms in place, same plans", quartilesOf(theirs), 1e3, "ms");
    return ratiosOf(ours, theirs);
}

void speed(const Stimulus& stimulus)
{
    const auto ratio = compare(stimulus, deadRoomT60);
    char words[64];
    std::snprintf(words, sizeof words, "  at most 1.4: %s", verdict(ratio.median <= 1.4));
    print("ratio", ratio, 1.0, "", words);
    print("ratio", compare(stimulus, usualRoomT60), 1.0, "");
}

void steps(const Stimulus& stimulus)
{
    const Capture capture = roomCapture(stimulus, deadRoomT60);
    AnalysisSteps profile(capture);
    std::vector<double> whole;
    for (int round = 0; round < rounds; ++round)
    {
        profile.run();
        whole.push_back(timed([&] { analysed(capture); }));
    }
    for (const auto& step : profile.steps())
        print(step.name, quartilesOf(step.seconds), 1e3, "ms");
    print("sum of these, against ...", profile.sum(), 1e3, "ms");
    print("... the whole analysis", quartilesOf(whole), 1e3, "ms");
}

void memory(const Stimulus& stimulus)
{
    const Capture capture = roomCapture(stimulus, usualRoomT60);
    const ResidentMemory before;
    analysed(capture);
    const double peak = before.peakAboveMegabytes();
    std::printf("  first analysis of a process, planning too: %.1f MB above idle, under 40: %s\n", peak,
                verdict(peak < 40.0));
}

}

int main(int count, char** arguments)
{
    const std::string_view mode = count > 1 ? arguments[1] : "";
    const auto stimulus = exactStimulus();
    if (count > 2)
        measurePlans(arguments[2],
                     { stimulus.segmentSamples(), std::size_t{ 1 } << 16, std::size_t{ 1 } << 17 });
    if (mode == "speed")
        speed(stimulus);
    else if (mode == "steps")
        steps(stimulus);
    else if (mode == "memory")
        memory(stimulus);
    else
        return 2;
    return 0;
}
