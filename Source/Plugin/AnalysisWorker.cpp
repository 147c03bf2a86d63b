#include "Plugin/AnalysisWorker.h"

#include "Core/ThreadTags.h"
#include "Core/Units.h"
#include "Files/FftWisdom.h"

#include <algorithm>

namespace plumbline
{

namespace
{

constexpr double hostIsStoppedAfterSeconds = 2.0;

std::unique_ptr<TakeJob> makeJob(const Stimulus& stimulus, bool practice)
{
    auto job = std::make_unique<TakeJob>();
    job->sweep = playedSweep(stimulus);
    job->leftStart = stimulus.leftStart;
    job->rightStart = stimulus.rightStart;
    const auto allowance = static_cast<std::size_t>(latencyAllowanceSeconds * stimulus.spec.sampleRateHz);
    job->totalSamples = stimulus.totalSamples + allowance;
    job->practice = practice;
    job->sampleRateHz = stimulus.spec.sampleRateHz;
    job->ceiling = static_cast<float>(amplitudeFromDecibels(std::min(stimulus.spec.levelDbfs, ceilingDbfs)));
    job->microphone.assign(job->totalSamples, 0.0f);
    job->reference.assign(job->totalSamples, 0.0f);
    return job;
}

/** A second channel that is absent or silent is no loopback. */
bool hasLoopback(const TakeJob& job)
{
    constexpr float leastAudible = 1e-6f;
    return job.referenceConnected && std::any_of(job.reference.begin(), job.reference.end(),
                                                 [](float x) { return std::abs(x) > leastAudible; });
}

Capture captureOf(TakeJob& job, const Stimulus& stimulus)
{
    Capture capture;
    capture.stimulus = stimulus;
    capture.stimulusStart = 0;
    const bool loopback = hasLoopback(job);
    capture.microphone = std::move(job.microphone);
    if (loopback)
        capture.reference = std::move(job.reference);
    return capture;
}

}

AnalysisWorker::AnalysisWorker(TakeRunner& takeRunner, std::function<double()> clock)
    : runner(takeRunner), now(std::move(clock))
{
}

AnalysisWorker::~AnalysisWorker() = default;

std::optional<Problem> AnalysisWorker::request(const TakeRequest& wanted)
{
    if (busy.exchange(true))
        return Problem{ "busy", "A take is under way", "", "Stop it first, or wait until it is analysed" };
    const std::scoped_lock guard(lock);
    pending = wanted;
    stopAsked = StopCause::none;
    return std::nullopt;
}

void AnalysisWorker::stop(StopCause cause)
{
    // The flag is for a take that is not lent yet, the runner for one that is. Set first: lend() looks at it last.
    {
        const std::scoped_lock guard(lock);
        if (stopAsked == StopCause::none) // the first cause counts
            stopAsked = cause;
    }
    runner.stop(cause);
}

StopCause AnalysisWorker::stopThatIsAsked() const
{
    const std::scoped_lock guard(lock);
    return stopAsked;
}

TakeStatus AnalysisWorker::status() const
{
    TakeStatus status;
    status.phase = runner.phase();
    status.busy = busy.load();
    status.analysing = analysing.load();
    const auto total = static_cast<double>(totalSamples.load());
    if (status.phase == TakePhase::taking && total > 0.0)
    {
        const auto done = static_cast<double>(runner.position());
        status.progress = std::min(1.0, done / total);
        status.elapsedSeconds = done / std::max(1.0, sessionRateHz.load());
        status.secondsLeft = std::max(0.0, total - done) / std::max(1.0, sessionRateHz.load());
    }
    const std::scoped_lock guard(lock);
    status.latest = latest;
    return status;
}

std::optional<TakeRequest> AnalysisWorker::nextRequest()
{
    const std::scoped_lock guard(lock);
    return std::exchange(pending, std::nullopt);
}

bool AnalysisWorker::step()
{
    assertNotOnAudioThread();
    const ScopedThreadRole role(ThreadRole::analysis);
    if (!lent)
        if (const auto request = nextRequest())
            lend(*request);
    if (lent)
    {
        if (auto* over = runner.collect())
            finish(*over);
        else
            watchForStoppedHost();
        return true;
    }
    if (!untuned.empty())
        tuneInIdleMoment();
    return !untuned.empty();
}

void AnalysisWorker::lend(const TakeRequest& request)
{
    recallTransforms();
    TakeRequest wanted = request;
    wanted.stimulus.sampleRateHz = sessionRateHz.load();
    if (wanted.stimulus.sampleRateHz <= 0.0)
        return giveUp(
            { "not-prepared", "No take: the host has not started the audio", "", "Start the audio engine" });
    const auto stimulus = designStimulus(wanted.stimulus);
    if (!stimulus)
        return giveUp(stimulus.problem());
    lent.emplace(Lent{ wanted, *stimulus, makeJob(*stimulus, wanted.practice) });
    totalSamples.store(lent->job->totalSamples);
    blocksThen = runner.blocks();
    blocksSince = now();
    if (const auto cause = stopThatIsAsked(); cause != StopCause::none)
    {
        lent.reset();
        return giveUp(problemOf(cause));
    }
    if (!runner.offer(*lent->job))
    {
        lent.reset();
        return giveUp({ "busy", "A take is under way", "", "Stop it first" });
    }
    // A stop that came while the job was offered may have been cleared with the stops of earlier takes.
    if (const auto cause = stopThatIsAsked(); cause != StopCause::none)
        runner.stop(cause);
    else if (wanted.startAtOnce)
        runner.start();
}

void AnalysisWorker::watchForStoppedHost()
{
    const auto blocks = runner.blocks();
    const auto phase = runner.phase();
    const bool begun = phase == TakePhase::taking || phase == TakePhase::stopping;
    const bool waiting =
        !begun && !lent->request.startAtOnce; // for a host that may call late, or not when stopped
    if (blocks != blocksThen || waiting)
    {
        blocksThen = blocks;
        blocksSince = now();
    }
    else if (now() - blocksSince > hostIsStoppedAfterSeconds)
    {
        if (runner.withdraw() != nullptr)
        {
            lent.reset();
            return giveUp(problemOf(StopCause::hostStopped));
        }
        runner.stop(StopCause::hostStopped); // the first block that comes again will see it
    }
}

void AnalysisWorker::finish(TakeJob& job)
{
    analysing.store(true);
    TakeResult result;
    if (!job.complete())
        result.problem = problemOf(job.cause);
    else
    {
        auto capture = std::make_shared<Capture>(captureOf(job, lent->stimulus));
        auto analysis = analyseTake(*capture, lent->request.analysis);
        if (analysis)
            result.analysis = std::make_shared<const TakeAnalysis>(std::move(*analysis));
        else
            result.problem = analysis.problem();
        result.capture = std::move(capture);
        untuned = transformLengths(lent->stimulus);
    }
    lent.reset();
    publish(std::move(result));
}

void AnalysisWorker::tuneInIdleMoment()
{
    constexpr double limitSeconds = 0.15;
    const auto length = untuned.back();
    untuned.pop_back();
    learnTransform(length, limitSeconds);
}

void AnalysisWorker::giveUp(const Problem& problem)
{
    TakeResult result;
    result.problem = problem;
    publish(std::move(result));
}

void AnalysisWorker::publish(TakeResult result)
{
    result.number = ++published;
    auto whole = std::make_shared<const TakeResult>(std::move(result));
    {
        const std::scoped_lock guard(lock);
        latest = std::move(whole);
        analysing.store(false);
        busy.store(false); // whoever sees the result may ask for the next
    }
}

}
