// How a session takes: when it may begin, what is asked of the take's machine, and where the result goes.

#include "Core/ThreadTags.h"
#include "Plugin/Session.h"

namespace plumbline
{

using Concern = SessionMessage::Concern;

void Session::hostAsksForTake() noexcept
{
    if (parts.runner.phase() != TakePhase::armed)
        return;
    hostStarted.store(true);
    parts.runner.start();
}

Session::Armed Session::wantedNow() const
{
    return { plan(), keeper.here(), practiceRoom, parts.worker.sessionRate() };
}

bool Session::mayArm() const
{
    const bool may = practiceRoom || !settings.careReadAt.empty();
    return begun && hostMayStart && may && !keeper.hereNow().empty() && parts.worker.sessionRate() > 0.0;
}

/** The page of care may have been read in another instance since. */
bool Session::maySound()
{
    if (!practiceRoom && settings.careReadAt.empty() && begun && settingsAreKept)
        if (auto now = readUserSettings())
            settings.careReadAt = now->careReadAt;
    return practiceRoom || !settings.careReadAt.empty();
}

/** @return true if a stop came after the start; it is said then */
bool Session::isVoid(const Start& start)
{
    if (stops.load() == start.stopsBefore)
        return false;
    say({ Concern::take, true, problemOf(lastStop.load()) });
    return true;
}

void Session::disarm()
{
    disarming = true;
    parts.worker.stop();
}

void Session::beginTake(const Start& start)
{
    if (isVoid(start))
        return;
    const bool isArmed = armed && takeStance.empty();
    if (parts.worker.status().busy && !isArmed)
        return;
    forget(Concern::take);
    if (!maySound())
        return say({ Concern::take,
                     true,
                     { "care-first", "Nothing sounds before the page of care was read", "",
                       "Read it, then start" } });
    if (keeper.hereNow().empty())
        return say({ Concern::take,
                     true,
                     { "no-stance", "It is not told what stands here", "", "Choose it on the board" } });
    // A take that is armed was made for the host; what the user starts is made as things stand now.
    startWanted = start;
    startsWaiting.fetch_add(1);
    if (isArmed)
        disarm();
    else
        requestTake(true);
}

std::optional<Problem> Session::lendPractice(TakeRequest& request)
{
    const double rate = parts.worker.sessionRate();
    auto microphone = stand.microphone();
    if (!microphone)
        return microphone.problem();
    auto loop = stand.loop(keeper.trial(), keeper.hereNow(), keeper.hereSetUp(), keeper.takesHere(),
                           rate > 0.0 ? rate : 48000.0);
    if (!loop)
        return loop.problem();
    request.practice = true;
    request.analysis.microphone = *microphone;
    std::unique_ptr<RoomLoop> lent = std::move(*loop);
    parts.practice.lend(lent); // it was collected before: see requestTake
    return std::nullopt;
}

void Session::requestTake(bool startsAtOnce)
{
    // The room of an earlier take has to be out of the Return's place first: step() tries again.
    parts.practice.askBack();
    if (!parts.practice.collect())
        return;
    const auto start = std::exchange(startWanted, std::nullopt);
    TakeRequest request;
    request.stimulus.levelDbfs = plan().levelDbfs;
    request.stimulus.seconds = plan().sweepSeconds;
    request.stimulus.band = { plan().fromHz, plan().toHz };
    request.stimulus.pair = keeper.hereKind() == Monitor::Kind::pair;
    request.startAtOnce = startsAtOnce;
    changed = true;
    const bool stopped = start && isVoid(*start);
    std::optional<Problem> problem;
    if (!stopped && practiceRoom)
        problem = lendPractice(request);
    if (!stopped && !problem)
    {
        hostStarted.store(false);
        atOnce.store(startsAtOnce);
        endedQuietly.store(false);
        problem = parts.worker.request(request);
        // A stop that came while it was requested may have been cleared with those of earlier takes.
        if (start && stops.load() != start->stopsBefore)
            parts.worker.stop(lastStop.load());
    }
    if (start)
        startsWaiting.fetch_sub(1);
    if (problem)
        say({ Concern::take, true, *problem });
    if (stopped || problem)
        return;
    ownTake = true;
    disarming = false;
    stood = keeper.here();
    armed = startsAtOnce ? std::nullopt : std::optional(wantedNow());
    takeStance = startsAtOnce ? keeper.hereNow() : std::string();
}

void Session::finish(const TakeResult& result)
{
    // A job that was armed and never begun, taken back or out of date, is nobody's concern: another is armed.
    const auto isOf = [&](StopCause cause)
    { return result.problem && result.problem->code == problemOf(cause).code; };
    const bool neverBegan = armed && takeStance.empty();
    const bool quiet = (std::exchange(disarming, false) && isOf(StopCause::asked)) ||
                       (neverBegan && (isOf(StopCause::streamChanged) || isOf(StopCause::hostStopped)));
    ownTake = false;
    armed.reset();
    takeStance.clear();
    parts.practice.askBack();
    changed = true;
    endedQuietly.store(quiet);
    if (quiet)
        return;
    forget(Concern::take);
    if (result.problem)
    {
        // A host that goes on asking would be answered at once by the same fault: the user has to say so again.
        hostMayStart = false;
        return say({ Concern::take, true, *result.problem });
    }
    const auto filed = keeper.file(stood, *result.capture, *result.analysis, trialsFolder());
    say(Concern::trial, filed);
    if (const auto folder = keeper.identity().folder; filed && !folder.empty())
        if (settings.recentTrials.empty() || settings.recentTrials.front() != folder)
            remember(folder);
}

void Session::keepArmed()
{
    const bool wanted = mayArm();
    if (armed && takeStance.empty() && !disarming && (!wanted || *armed != wantedNow()))
        disarm();
    if (wanted && !ownTake && !startWanted && !parts.worker.status().busy)
        requestTake(false);
}

/** For use without a window: what the user's settings allow the host to start needs a name to be filed under. */
void Session::chooseStanceWithoutWindow()
{
    if (!settings.hostMayStart || !keeper.hereNow().empty())
        return;
    if (keeper.trial().monitors.empty())
    {
        Monitor monitors;
        monitors.name = "Monitors";
        if (auto described = keeper.describe("", monitors); !described)
            return say(Concern::trial, described);
    }
    keeper.standHere(Stance{ keeper.trial().monitors.front().name, usualOrientations().front() }.name());
    changed = true;
}

bool Session::step()
{
    assertNotOnAudioThread();
    const ScopedThreadRole role(ThreadRole::analysis);
    commands.run();
    if (begun)
        chooseStanceWithoutWindow();
    if (startWanted && !parts.worker.status().busy)
        requestTake(true);
    const bool underWay = parts.worker.step();
    if (const auto latest = parts.worker.status().latest; latest && latest->number != lastResult)
    {
        lastResult = latest->number;
        if (ownTake)
            finish(*latest);
    }
    // A take that the host has started is one under way.
    if (armed && takeStance.empty() && parts.runner.phase() == TakePhase::taking)
    {
        takeStance = armed->stood.stance;
        changed = true;
    }
    keepArmed();
    if (std::exchange(changed, false))
        publish();
    // Nobody wakes this side when the host begins to run: while its parameter counts, it is looked at.
    return underWay || startWanted.has_value() || ownTake || (begun && hostMayStart) ||
           !parts.practice.collect();
}

}
