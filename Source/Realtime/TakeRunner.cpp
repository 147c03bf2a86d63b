#include "Realtime/TakeRunner.h"

#include <algorithm>
#include <cmath>
#include <span>

namespace plumbline
{

namespace
{
constexpr double mixFadeSeconds = 0.020;
constexpr double stopFadeSeconds = 0.005; // promise: silent within 10 ms
constexpr double silenceAfterStopSeconds = 0.5;
constexpr double mixReturnSeconds = 0.25;

static_assert(std::atomic<TakeJob*>::is_always_lock_free && std::atomic<float>::is_always_lock_free);
static_assert(std::atomic<StopCause>::is_always_lock_free && std::atomic<std::size_t>::is_always_lock_free);
}

TakeBlock TakeBlock::part(int from, int count) const noexcept
{
    TakeBlock some = *this;
    for (auto* channels : { &some.main, &some.practice })
        for (auto*& channel : *channels)
            channel = channel == nullptr ? nullptr : channel + from;
    for (auto*& channel : some.returned)
        channel = channel == nullptr ? nullptr : channel + from;
    some.frames = count;
    return some;
}

// --- the analysis side

bool TakeRunner::offer(TakeJob& wanted) noexcept
{
    if (jobIsOut)
        return false;
    jobIsOut = true;
    startAsked.store(false, std::memory_order_relaxed);
    stopAsked.store(StopCause::none, std::memory_order_relaxed);
    offered.store(&wanted, std::memory_order_release);
    return true;
}

TakeJob* TakeRunner::collect() noexcept
{
    auto* over = returned.exchange(nullptr, std::memory_order_acq_rel);
    if (over != nullptr)
        jobIsOut = false;
    return over;
}

TakeJob* TakeRunner::withdraw() noexcept
{
    auto* unseen = offered.exchange(nullptr, std::memory_order_acq_rel);
    if (unseen != nullptr)
        jobIsOut = false;
    return unseen;
}

void TakeRunner::stop(StopCause cause) noexcept
{
    // The first cause counts.
    auto none = StopCause::none;
    stopAsked.compare_exchange_strong(none, cause, std::memory_order_release, std::memory_order_relaxed);
}

// --- the audio side

void TakeRunner::prepare(double sampleRateHz) noexcept
{
    if (job != nullptr && phase() != TakePhase::armed)
        abort(StopCause::streamChanged, true);
    else if (job != nullptr && job->sampleRateHz != sampleRateHz)
        abort(StopCause::streamChanged, true);
    rate = sampleRateHz;
    guard.prepare(sampleRateHz);
}

void TakeRunner::release() noexcept
{
    if (job != nullptr && phase() != TakePhase::armed)
        abort(StopCause::hostStopped, true);
}

bool TakeRunner::mustBeAcknowledged() const noexcept
{
    const auto why = cause();
    return why == StopCause::overload || why == StopCause::runaway || why == StopCause::notFinite;
}

void TakeRunner::handBack(TakePhase next) noexcept
{
    auto* over = job;
    job = nullptr;
    enter(next);
    returned.store(over, std::memory_order_release);
}

void TakeRunner::fail() noexcept
{
    silentFor = 0;
    handBack(TakePhase::failed);
}

void TakeRunner::abort(StopCause cause, bool atOnce) noexcept
{
    if (job->cause == StopCause::none) // the first cause counts
        job->cause = cause;
    causeNow.store(job->cause, std::memory_order_release);
    const bool sounded = phase() != TakePhase::armed;
    if (!sounded)
    {
        handBack(TakePhase::failed);
        return;
    }
    enter(TakePhase::stopping);
    mix.moveTo(0.0f, stopFadeSeconds * rate);
    stimulus.moveTo(0.0f, stopFadeSeconds * rate);
    if (!atOnce)
        return;
    mix.jumpTo(0.0f);
    stimulus.jumpTo(0.0f);
    fail();
}

void TakeRunner::beginTake(const TakeBlock& block) noexcept
{
    if (block.offline)
        return abort(StopCause::offlineRender, true);
    if (block.returned[0] == nullptr)
        return abort(StopCause::noReturn, true);
    guard.reset();
    at = 0;
    playing = false;
    positionNow.store(0, std::memory_order_relaxed);
    mix.moveTo(0.0f, mixFadeSeconds * rate);
    stimulus.jumpTo(1.0f);
    enter(TakePhase::taking);
}

void TakeRunner::answerRequests(const TakeBlock& block) noexcept
{
    if (job == nullptr)
        if (auto* fresh = offered.exchange(nullptr, std::memory_order_acq_rel))
        {
            job = fresh;
            causeNow.store(StopCause::none, std::memory_order_release);
            mix.moveTo(1.0f, mixFadeSeconds * rate);
            enter(TakePhase::armed);
            if (job->sampleRateHz != rate)
                abort(StopCause::streamChanged, true);
        }
    if (acknowledged.exchange(false, std::memory_order_acq_rel) && phase() == TakePhase::failed)
    {
        mix.moveTo(1.0f, mixReturnSeconds * rate);
        enter(TakePhase::idle);
    }
    if (job == nullptr)
        return;
    const auto asked = stopAsked.exchange(StopCause::none, std::memory_order_acq_rel);
    if (asked != StopCause::none && job->cause == StopCause::none)
        return abort(asked, asked == StopCause::hostStopped);
    // A job for the practice room waits until the room stands in for the Return, and the other way round.
    const bool inItsPlace = job->practice == (block.practice[0] != nullptr);
    if (phase() == TakePhase::armed && inItsPlace && startAsked.exchange(false, std::memory_order_acq_rel))
        beginTake(block);
    else if (phase() == TakePhase::taking && block.offline)
        abort(StopCause::offlineRender, false);
}

float TakeRunner::stimulusAt(std::size_t start, std::size_t place) const noexcept
{
    return place >= start && place - start < job->sweep.size() ? job->sweep[place - start] : 0.0f;
}

void TakeRunner::record(const TakeBlock& block) noexcept
{
    const auto into = static_cast<std::ptrdiff_t>(at);
    std::copy_n(block.returned[0], block.frames, job->microphone.begin() + into);
    if (block.returned[1] != nullptr)
        std::copy_n(block.returned[1], block.frames, job->reference.begin() + into);
    job->referenceConnected = block.returned[1] != nullptr;
    job->recorded = at + static_cast<std::size_t>(block.frames);
}

void TakeRunner::render(const TakeBlock& block) noexcept
{
    // Without a second channel a mono output plays both sweeps.
    auto* leftOut = block.practice[0] != nullptr ? block.practice[0] : block.main[0];
    auto* rightOut = block.practice[0] != nullptr ? block.practice[1] : block.main[1];
    if (rightOut == nullptr)
        rightOut = leftOut;
    for (int i = 0; i < block.frames; ++i)
    {
        const float mixGain = mix.next(), gain = playing ? stimulus.next() : 0.0f;
        for (auto* channel : block.main)
            if (channel != nullptr)
                channel[i] *= mixGain;
        if (!playing)
            continue;
        const std::size_t place = at + static_cast<std::size_t>(i);
        auto played = [&](std::size_t start)
        { return std::clamp(gain * stimulusAt(start, place), -job->ceiling, job->ceiling); };
        leftOut[i] += played(job->leftStart);
        if (job->rightStart)
            rightOut[i] += played(*job->rightStart);
    }
}

/** Cuts a block where the stream begins or ends, or where playing starts or stops within it. */
int TakeRunner::framesToNextEdge(int frames) const noexcept
{
    if (!playing)
        return frames;
    std::size_t most = static_cast<std::size_t>(frames);
    auto edge = [&](std::size_t place)
    {
        if (place > at)
            most = std::min(most, place - at);
    };
    edge(job->leftStart);
    edge(job->leftStart + job->sweep.size());
    if (job->rightStart)
    {
        edge(*job->rightStart);
        edge(*job->rightStart + job->sweep.size());
    }
    edge(job->totalSamples);
    return static_cast<int>(most);
}

void TakeRunner::advance(const TakeBlock& block) noexcept
{
    const bool recording = playing && phase() == TakePhase::taking;
    if (recording)
    {
        record(block);
        const std::span heard(block.returned[0], static_cast<std::size_t>(block.frames));
        const auto found = guard.watch(heard, job->silentAt(at));
        if (found != StopCause::none)
            abort(found, false);
    }
    render(block);
    if (!playing)
        return;
    at += static_cast<std::size_t>(block.frames);
    positionNow.store(at, std::memory_order_relaxed);
    if (recording && phase() == TakePhase::taking && at == job->totalSamples)
    {
        mix.moveTo(1.0f, mixReturnSeconds * rate);
        causeNow.store(StopCause::none, std::memory_order_release);
        handBack(TakePhase::idle);
    }
}

void TakeRunner::letMixReturn(int frames) noexcept
{
    silentFor += frames;
    const bool held = static_cast<double>(silentFor) < silenceAfterStopSeconds * rate || mustBeAcknowledged();
    if (!held)
        mix.moveTo(1.0f, mixReturnSeconds * rate);
}

void TakeRunner::passMix(const TakeBlock& block) noexcept
{
    if (phase() == TakePhase::failed)
        block.offline ? mix.jumpTo(1.0f) : letMixReturn(block.frames);
    if (mix.arrived() && mix.value() == 1.0f)
        return; // sample-exact
    for (int i = 0; i < block.frames; ++i)
    {
        const float gain = mix.next();
        for (auto* channel : block.main)
            if (channel != nullptr)
                channel[i] *= gain;
    }
}

void TakeRunner::meter(const TakeBlock& block) noexcept
{
    returnThere.store(block.returned[0] != nullptr, std::memory_order_relaxed);
    rendering.store(block.offline, std::memory_order_relaxed);
    for (std::size_t channel = 0; channel < block.returned.size(); ++channel)
    {
        if (block.returned[channel] == nullptr)
            continue;
        float peak = returnPeak[channel].load(std::memory_order_relaxed);
        for (int i = 0; i < block.frames; ++i)
            peak = std::max(peak, std::abs(block.returned[channel][i]));
        returnPeak[channel].store(peak, std::memory_order_relaxed);
    }
}

void TakeRunner::process(const TakeBlock& block) noexcept
{
    meter(block);
    blocksSeen.fetch_add(1, std::memory_order_relaxed);
    answerRequests(block);
    const bool mustRecord = job != nullptr && phase() == TakePhase::taking;
    if (mustRecord && block.returned[0] == nullptr)
        abort(StopCause::streamChanged, false);
    int from = 0;
    while (from < block.frames && job != nullptr && phase() != TakePhase::armed)
    {
        if (!playing && mix.arrived() && phase() == TakePhase::taking)
            playing = true;
        const int frames = framesToNextEdge(block.frames - from);
        advance(block.part(from, frames));
        from += frames;
        if (job != nullptr && phase() == TakePhase::stopping && mix.arrived() &&
            (!playing || stimulus.arrived()))
            fail();
    }
    if (from < block.frames)
        passMix(block.part(from, block.frames - from));
}

}
