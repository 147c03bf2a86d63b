#pragma once

#include "Realtime/Ramp.h"
#include "Realtime/ReturnGuard.h"
#include "Realtime/TakeJob.h"

#include <array>
#include <atomic>

namespace plumbline
{

enum class TakePhase
{
    idle,     ///< the mix passes
    armed,    ///< a job waits for the start; the mix passes
    taking,   ///< the mix is faded out, the stimulus plays and the Return is recorded
    stopping, ///< a stop was seen: fading to silence
    failed    ///< stopped before its time; see cause()
};

/** What one block brings and wants. Pointers may alias as hosts let them: the Return is read before anything
    is written. */
struct TakeBlock
{
    std::array<float*, 2> main{};           ///< the mix in, the output out; second null for mono
    std::array<const float*, 2> returned{}; ///< microphone, reference; null where absent
    /** Where the stimulus goes instead of the output when the practice room stands in for the Return; null
        otherwise. As many frames, already zero. */
    std::array<float*, 2> practice{};
    int frames = 0;
    bool offline = false; ///< the host renders a file

    /** The frames from `from` on, `count` of them. */
    TakeBlock part(int from, int count) const noexcept;
};

/** The state machine of a take on the audio thread.

    One job at a time travels analysis -> audio -> analysis through two atomic slots; neither slot can ever be
    full.

        idle --offer--> armed --start--> taking --last sample--> stopping --> idle (mix fades in)
                          |                 \--stop rule--> stopping (5 ms to silence) --> failed
                          \--stop, withdraw--> idle
        failed --acknowledge or a new offer--> the mix fades in --> idle or armed

    Wherever a take ends its job is handed back.

    After a stop the output stays silent for half a second; the mix then fades back by itself, except after
    overload, runaway and values that are not numbers: there it stays silent until it is acknowledged, or a
    file is rendered. */
class TakeRunner
{
public:
    // --- [any], in particular the analysis thread

    /** Lends a job. False if another is out; the job stays with the caller then. */
    bool offer(TakeJob& job) noexcept;
    /** The job, once it is over; null while there is nothing to collect. */
    TakeJob* collect() noexcept;
    /** Takes back an offer that the audio thread has not seen yet; null if it has. */
    TakeJob* withdraw() noexcept;

    void start() noexcept { startAsked.store(true, std::memory_order_release); }

    void stop(StopCause cause = StopCause::asked) noexcept;

    void acknowledge() noexcept { acknowledged.store(true, std::memory_order_release); }

    TakePhase phase() const noexcept { return phaseNow.load(std::memory_order_acquire); }

    StopCause cause() const noexcept { return causeNow.load(std::memory_order_acquire); }

    /** Samples of the stream played so far. */
    std::size_t position() const noexcept { return positionNow.load(std::memory_order_relaxed); }

    /** Blocks seen, to tell a stopped host. */
    std::size_t blocks() const noexcept { return blocksSeen.load(std::memory_order_relaxed); }

    /** Largest |microphone| (0) or |loopback| (1) since the last call. */
    float takeReturnPeak(std::size_t channel) noexcept
    {
        return returnPeak[channel].exchange(0.0f, std::memory_order_relaxed);
    }

    /** Whether the last block brought a Return, and whether the host was rendering a file. */
    bool returnSeen() const noexcept { return returnThere.load(std::memory_order_relaxed); }

    bool renderSeen() const noexcept { return rendering.load(std::memory_order_relaxed); }

    /** The output stays silent until acknowledge(). */
    bool heldSilent() const noexcept { return phase() == TakePhase::failed && mustBeAcknowledged(); }

    // --- [audio], or with the audio stopped

    /** Allocates nothing. A take under way fails: the stream has changed. */
    void prepare(double sampleRateHz) noexcept;
    /** The host has stopped. A take under way fails, and its job can be collected at once. */
    void release() noexcept;
    /** [audio] Any number of frames from 0. */
    void process(const TakeBlock& block) noexcept;

private:
    void answerRequests(const TakeBlock& block) noexcept;
    void beginTake(const TakeBlock& block) noexcept;
    void abort(StopCause cause, bool atOnce) noexcept;
    void fail() noexcept;
    void handBack(TakePhase next) noexcept;
    void advance(const TakeBlock& block) noexcept;
    void record(const TakeBlock& block) noexcept;
    void render(const TakeBlock& block) noexcept;
    float stimulusAt(std::size_t start, std::size_t at) const noexcept;
    void passMix(const TakeBlock& block) noexcept;
    void letMixReturn(int frames) noexcept;
    void meter(const TakeBlock& block) noexcept;
    int framesToNextEdge(int frames) const noexcept;

    void enter(TakePhase phase) noexcept { phaseNow.store(phase, std::memory_order_release); }

    bool mustBeAcknowledged() const noexcept;

    // Written by the analysis side, read by audio.
    std::atomic<TakeJob*> offered{ nullptr };
    std::atomic<bool> startAsked{ false }, acknowledged{ false };
    std::atomic<StopCause> stopAsked{ StopCause::none };
    // Written by audio, read by others.
    std::atomic<TakeJob*> returned{ nullptr };
    std::atomic<TakePhase> phaseNow{ TakePhase::idle };
    std::atomic<StopCause> causeNow{ StopCause::none };
    std::atomic<std::size_t> positionNow{ 0 }, blocksSeen{ 0 };
    std::array<std::atomic<float>, 2> returnPeak{};
    std::atomic<bool> returnThere{ false }, rendering{ false };
    // Analysis side only.
    bool jobIsOut = false;
    // Audio only.
    TakeJob* job = nullptr;
    ReturnGuard guard;
    Ramp mix, stimulus;
    double rate = 48000.0;
    std::size_t at = 0;   ///< sample of the stream
    bool playing = false; ///< the stream has begun (the mix is out)
    long silentFor = 0;   ///< output samples since the stop
};

}
