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
    return { plan(), keeper.hereNow(), keeper.hereSetUp(), practiceRoom, parts.worker.sessionRate() };
}

bool Session::mayArm() const
{
    const bool maySound = practiceRoom || !settings.careReadAt.empty();
    return begun && hostMayStart && maySound && !keeper.hereNow().empty() && parts.worker.sessionRate() > 0.0;
}

void Session::beginTake()
{
    if (armed && parts.runner.phase() == TakePhase::armed)
    {
        atOnce.store(true);
        parts.runner.start();
        return;
    }
    if (parts.worker.status().busy)
        return;
    forget(Concern::take);
    if (!practiceRoom && settings.careReadAt.empty())
        return say({ Concern::take,
                     true,
                     { "care-first", "Nothing sounds before the page of care was read", "",
                       "Read it, then start" } });
    if (keeper.hereNow().empty())
        return say({ Concern::take,
                     true,
                     { "no-stance", "It is not told what stands here", "", "Choose it on the board" } });
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
    startWanted = startsAtOnce;
    parts.practice.askBack();
    if (!parts.practice.collect())
        return;
    startWanted = false;
    TakeRequest request;
    request.stimulus.levelDbfs = plan().levelDbfs;
    request.stimulus.seconds = plan().sweepSeconds;
    request.stimulus.pair = keeper.hereKind() == Monitor::Kind::pair;
    request.startAtOnce = startsAtOnce;
    if (practiceRoom)
        if (auto problem = lendPractice(request))
            return say({ Concern::take, true, *problem });
    hostStarted.store(false);
    atOnce.store(startsAtOnce);
    if (auto busy = parts.worker.request(request))
        return say({ Concern::take, true, *busy });
    ownTake = true;
    disarming = false;
    armed = startsAtOnce ? std::nullopt : std::optional(wantedNow());
    takeStance = startsAtOnce ? keeper.hereNow() : std::string();
    changed = true;
}

void Session::finish(const TakeResult& result)
{
    const bool wasDisarmed = std::exchange(disarming, false) && result.problem &&
                             result.problem->code == problemOf(StopCause::asked).code;
    ownTake = false;
    armed.reset();
    takeStance.clear();
    parts.practice.askBack();
    changed = true;
    if (wasDisarmed)
        return;
    forget(Concern::take);
    if (result.problem)
    {
        // A host that goes on asking would be answered at once by the same fault: the user has to say so again.
        hostMayStart = false;
        return say({ Concern::take, true, *result.problem });
    }
    const auto filed = keeper.file(*result.capture, *result.analysis, trialsFolder());
    say(Concern::trial, filed);
    if (const auto folder = keeper.identity().folder; filed && !folder.empty())
        if (settings.recentTrials.empty() || settings.recentTrials.front() != folder)
            remember(folder);
}

void Session::keepArmed()
{
    const bool wanted = mayArm();
    if (armed && parts.runner.phase() == TakePhase::armed && !disarming && (!wanted || *armed != wantedNow()))
    {
        disarming = true;
        parts.worker.stop();
    }
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
    bool underWay = parts.worker.step();
    if (const auto latest = parts.worker.status().latest; latest && latest->number != lastResult)
    {
        lastResult = latest->number;
        if (ownTake)
            finish(*latest);
    }
    // A take that the host has started is one under way.
    if (armed && takeStance.empty() && parts.runner.phase() == TakePhase::taking)
    {
        takeStance = armed->stance;
        changed = true;
    }
    keepArmed();
    if (std::exchange(changed, false))
        publish();
    return underWay || startWanted || ownTake || !parts.practice.collect();
}

}
