#pragma once

#include "Plugin/TakeControl.h"
#include "Realtime/TakeRunner.h"

#include <atomic>
#include <functional>
#include <mutex>

namespace plumbline
{

/** The recording goes on for so long after the stream, so that the last tail is whole however late the loop
    brings it back: two blocks of 8192 at 44.1 kHz and a converter. */
inline constexpr double latencyAllowanceSeconds = 0.4;

/** The analysis side of a take: makes the stimulus, lends the job, analyses what comes back, publishes the
    result.

    `step()` does what there is to do now and never waits, so that a test or the console program can drive it
    by hand; in the plugin the analysis thread calls it. Commands come in under a mutex that the audio thread
    never touches. */
class AnalysisWorker
{
public:
    /** @param now seconds of a steady clock, injected so that tests own the time */
    AnalysisWorker(TakeRunner& runner, std::function<double()> now);
    ~AnalysisWorker();

    // --- [any but audio] ---
    std::optional<Problem> request(const TakeRequest& request);
    /** Ends whatever is requested, armed or under way, at whichever point it is. */
    void stop(StopCause cause = StopCause::asked);
    TakeStatus status() const;

    /** The rate at which the session runs; 0 until it is known. */
    void setSessionRate(double sampleRateHz) noexcept
    {
        sessionRateHz.store(sampleRateHz, std::memory_order_relaxed);
    }

    double sessionRate() const noexcept { return sessionRateHz.load(std::memory_order_relaxed); }

    // --- [analysis] ---
    /** @return true if something is under way, so that the caller looks again soon */
    bool step();

private:
    /** What is lent, and what it was made from. */
    struct Lent
    {
        TakeRequest request;
        Stimulus stimulus;
        std::unique_ptr<TakeJob> job;
    };

    std::optional<TakeRequest> nextRequest();
    void lend(const TakeRequest& request);
    void finish(TakeJob& job);
    void watchForStoppedHost();
    void tuneInIdleMoment();
    void publish(TakeResult result);
    void giveUp(const Problem& problem);
    StopCause stopThatIsAsked() const;

    TakeRunner& runner;
    std::function<double()> now;
    std::atomic<double> sessionRateHz{ 0.0 };
    std::atomic<std::size_t> totalSamples{ 0 };
    std::atomic<bool> busy{ false }, analysing{ false };
    mutable std::mutex lock; ///< guards `pending` and `latest`
    std::optional<TakeRequest> pending;
    StopCause stopAsked = StopCause::none; ///< of what is requested now; also guarded
    std::shared_ptr<const TakeResult> latest;
    // Analysis thread only.
    std::optional<Lent> lent;
    std::uint64_t published = 0;
    std::size_t blocksThen = 0;
    double blocksSince = 0.0;
    std::vector<std::size_t> untuned; ///< transform lengths to measure when idle
};

}
