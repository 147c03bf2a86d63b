#pragma once

#include "Core/Problem.h"
#include "Measure/TakeAnalysis.h"
#include "Realtime/TakeRunner.h"

#include <memory>
#include <optional>

namespace plumbline
{

/** What to take. The sample rate is the session's own. */
struct TakeRequest
{
    StimulusSpec stimulus;
    AnalysisSettings analysis;
    bool startAtOnce = true; ///< otherwise it stays armed until startTake()
    bool practice = false;   ///< to be taken in the practice room; see PracticeReturn
};

/** A take that is over: the capture and what was found in it, or why there is nothing. Published whole. */
struct TakeResult
{
    std::uint64_t number = 0; ///< counts up with every result
    std::optional<Problem> problem;
    std::shared_ptr<const Capture> capture;       ///< absent if the take did not run to its end
    std::shared_ptr<const TakeAnalysis> analysis; ///< absent if it could not be analysed
};

/** Where things stand. */
struct TakeStatus
{
    TakePhase phase = TakePhase::idle;
    bool busy = false;      ///< a request is being prepared, taken or analysed
    bool analysing = false; ///< the take is over, its result is not published yet
    double elapsedSeconds = 0.0;
    double progress = 0.0; ///< of the take, 0..1
    double secondsLeft = 0.0;
    std::shared_ptr<const TakeResult> latest;
};

/** The narrow way by which a window, a console program or a test takes a measurement: commands in, immutable
    snapshots out. [any but audio] Nothing here waits for the audio thread. */
class TakeControl
{
public:
    virtual ~TakeControl() = default;

    /** Problems: a take is under way already. What is wrong with the request itself comes with the result. */
    virtual std::optional<Problem> requestTake(const TakeRequest& request) = 0;
    virtual void startTake() = 0;
    virtual void stopTake() = 0;
    /** Lets the mix come back after a stop that must be acknowledged. */
    virtual void acknowledge() = 0;
    virtual TakeStatus takeStatus() const = 0;
};

/** A stop in words a person can act on. */
Problem problemOf(StopCause cause);

}
