#pragma once

#include "Core/Result.h"
#include "Files/TrialFolder.h"
#include "Plugin/PlumblineProcessor.h"
#include "Plugin/PracticeStand.h"
#include "PracticeRoom/PracticeRoom.h"

namespace plumbline
{

/** Takes measurements in the practice room with the very processor that a host loads: block by block, its
    output through the simulated room into its Return, faster than real time. What is played in a block comes
    back with the next one, as in a host. Nothing sounds. */
class PracticeSession
{
public:
    /** @param room must outlive the session */
    PracticeSession(const PracticeRoom& room, int blockSize);

    /** Runs one take to its end and analyses it. `clean`: no noise, no jitter, no put-back error. */
    Result<TakeRecord> take(const TakeLabel& label, bool clean, const AnalysisSettings& settings);

    /** Runs the blocks of one take, without the analysis. After it the processor holds the capture. @return
        samples run */
    std::size_t runBlocks(const TakeLabel& label, bool clean, const TakeRequest& request);

    PlumblineProcessor& processor() noexcept { return plugin; }

    /** Request with the plan of the scenario. */
    TakeRequest request(const TakeLabel& label, const AnalysisSettings& settings) const;

private:
    const PracticeRoom& room;
    PlumblineProcessor plugin;
    juce::AudioBuffer<float> buffer; ///< main left, right; Return microphone, reference
};

/** Names, sizes and positions of a scenario as a trial without takes. */
Trial describePractice(Trial trial, const Scenario& scenario);

}
