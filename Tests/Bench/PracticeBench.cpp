// How much faster than real time `plumbline practice` runs, its analysis aside: the shipped scenario of three
// pairs, every stance once, through PracticeSession::runBlocks at blocks of 512 and of 64.
//
// In it: the impulse responses of the room for each take (both sides, with their jitter), the convolver's
// plans and spectra, the stimulus, the processor block by block, the convolution, the noise. Not in it: the
// analysis and the writing of files; what the room is asked once a scenario is told apart.
//
// What could come out right here for the wrong reason: takes that fail after a few blocks. So the samples run
// are counted against the stimulus, and each take must be analysed without a problem.
#include "Command/PracticeSession.h"
#include "Files/ScenarioFile.h"
#include "Timing.h"

#include <cstdlib>

using namespace plumbline;
using namespace plumbline::bench;

namespace
{

[[noreturn]] void giveUp(const char* words)
{
    std::fprintf(stderr, "%s\n", words);
    std::exit(1);
}

/** @return seconds of sound a second of CPU */
double speedOf(PracticeSession& session, const TakeLabel& label, double rate)
{
    const TakeRequest request = session.request(label, {});
    auto spec = request.stimulus;
    spec.sampleRateHz = rate;
    const auto expected =
        designStimulus(spec)->totalSamples + static_cast<std::size_t>(latencyAllowanceSeconds * rate);
    std::size_t samples = 0;
    const double seconds = timed([&] { samples = session.runBlocks(label, false, request); });
    session.processor().stepAnalysis(); // so that the next take can begin; not timed
    const auto result = session.processor().takeStatus().latest;
    if (samples < expected || samples > expected + 4096 || result == nullptr || result->problem)
        giveUp("A take of the benchmark did not run to its end.");
    return static_cast<double>(samples) / rate / seconds;
}

void report(const char* what, const std::vector<double>& speeds, double least)
{
    char words[64];
    const auto q = quartilesOf(speeds);
    std::snprintf(words, sizeof words, "  at least %.0f: %s", least, verdict(q.median >= least));
    print(what, q, 1.0, "x", words);
}

}

int main()
{
    const auto scenario = readScenario(PLUMBLINE_PRESETS "/practice/three-pairs.json");
    if (!scenario)
        giveUp("The scenario of the benchmark could not be read.");
    const double rate = scenario->sampleRateHz;
    std::optional<PracticeRoom> room;
    const double once = timed([&] { room.emplace(*scenario, rate, 1); });
    PracticeSession large(*room, 512), small(*room, 64);
    std::vector<double> atLarge, atSmall, roomSeconds;
    for (int round = 0; round < 2; ++round)
        for (std::size_t stance = 0; stance < scenario->stances.size(); ++stance)
        {
            const TakeLabel label{ stance, 0, round, 0 };
            atLarge.push_back(speedOf(large, label, rate));
            atSmall.push_back(speedOf(small, label, rate));
            roomSeconds.push_back(timed([&] { static_cast<void>(room->loop(label, false)); }));
        }
    report("blocks of 512, real time divided by CPU", atLarge, 50.0);
    report("blocks of 64", atSmall, 25.0);
    print("of each take: making the room's responses", quartilesOf(roomSeconds), 1e3, "ms");
    std::printf("  besides, once a scenario: preparing the room %.0f ms\n", 1e3 * once);
    return 0;
}
