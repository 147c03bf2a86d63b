#include "Plugin/Session.h"

#include "Core/ThreadTags.h"
#include "Core/Units.h"
#include "Files/AtomicFile.h"
#include "Files/UserFolder.h"
#include "Plugin/TakeWords.h"

#include <algorithm>
#include <cmath>

namespace plumbline
{

using Concern = SessionMessage::Concern;

namespace
{

void set(juce::AudioParameterFloat& parameter, double value)
{
    parameter.beginChangeGesture();
    parameter.setValueNotifyingHost(parameter.convertTo0to1(static_cast<float>(value)));
    parameter.endChangeGesture();
}

/** What becomes of a state that could not be read: it goes with the session if it fits, else into a file. */
std::string keptAside(const std::string& state)
{
    const std::string begins = "Plumbline begins with its defaults and keeps what came as it was";
    if (state.size() <= mostSetAsideBytes)
        return begins;
    std::error_code error;
    const auto folder = userSettingsFolder();
    std::filesystem::create_directories(folder, error);
    const auto file = folder / ("session-set-aside-" + std::to_string(std::hash<std::string>{}(state)));
    const auto written = writeFileWhole(file, state);
    return written ? begins + ", in " + file.string()
                   : "Plumbline begins with its defaults; what came is too large to keep, and could not be "
                     "written: " +
                         written.problem().sentence();
}

float peakDbfs(float peak)
{
    constexpr float nothing = -200.0f;
    return peak > 0.0f ? std::max(nothing, 20.0f * std::log10(peak)) : nothing;
}

}

Session::Session(Parts whatItWorksWith) : parts(std::move(whatItWorksWith))
{
    published = std::make_shared<const SessionView>(seen());
}

// --- what there is to see

std::shared_ptr<const SessionView> Session::session() const
{
    const std::scoped_lock guard(lock);
    return published;
}

LiveState::Phase Session::phaseNow() const
{
    using Phase = LiveState::Phase;
    const auto status = parts.worker.status();
    const bool waits = startsWaiting.load() > 0;
    switch (status.phase)
    {
    case TakePhase::taking:
        return Phase::taking;
    case TakePhase::stopping:
        return Phase::stopping;
    case TakePhase::armed:
        return atOnce.load() || waits ? Phase::preparing : Phase::armed;
    case TakePhase::idle:
    case TakePhase::failed:
        break;
    }
    if (status.analysing)
        return Phase::analysing;
    if (waits || (status.busy && atOnce.load()))
        return Phase::preparing;
    return status.phase == TakePhase::failed && !endedQuietly.load() ? Phase::stopped : Phase::idle;
}

LiveState Session::live()
{
    const auto status = parts.worker.status();
    LiveState now;
    now.phase = phaseNow();
    now.elapsedSeconds = status.elapsedSeconds;
    now.mustAcknowledge = parts.runner.heldSilent();
    now.hostStarted = hostStarted.load();
    now.returnConnected = parts.runner.returnSeen();
    now.hostIsRendering = parts.runner.renderSeen();
    now.sampleRateHz = sessionRateHz.load();
    now.microphonePeakDbfs = peakDbfs(parts.runner.takeReturnPeak(0));
    now.loopbackPeakDbfs = peakDbfs(parts.runner.takeReturnPeak(1));
    const double rate = parts.worker.sessionRate();
    // The host may change its rate, or a parameter in a panel of its own: then there is something new to see.
    if (rate != sessionRateHz.exchange(rate) || plan() != session()->plan)
        post([] {});
    return now;
}

TakePlan Session::plan() const
{
    TakePlan now;
    now.levelDbfs = parts.parameters.level.get();
    now.sweepSeconds = parts.parameters.seconds.get();
    now.fromHz = fromHz.load();
    now.toHz = toHz.load();
    return now;
}

SessionView Session::seen() const
{
    SessionView view;
    view.trial = keeper.view();
    view.plan = plan();
    StimulusSpec spec;
    spec.sampleRateHz = std::max(8000.0, parts.worker.sessionRate());
    spec.seconds = view.plan.sweepSeconds;
    spec.levelDbfs = view.plan.levelDbfs;
    spec.band = { view.plan.fromHz, view.plan.toHz };
    spec.pair = keeper.hereKind() == Monitor::Kind::pair;
    view.times = timesOf(spec);
    view.takeUnderWay = takeStance;
    view.careWasRead = !settings.careReadAt.empty();
    view.practiceRoom = practiceRoom;
    view.hostMayStart = hostMayStart;
    view.standalone = openAudioSettings != nullptr;
    view.appearance = { settings.dark, settings.scalePercent, settings.reduceMotion };
    if (begun) // before it no file is asked for anything
        view.trialsFolder = trialsFolder().string();
    view.recentTrials = settings.recentTrials;
    view.messages = messages;
    return view;
}

void Session::publish()
{
    auto whole = std::make_shared<const SessionView>(seen());
    SessionState state{ keeper.identity(), keeper.hereNow(), keeper.hereSetUp(), practiceRoom, setAside };
    {
        const std::scoped_lock guard(lock);
        published = std::move(whole);
        if (restoresWaiting.load() == 0) // what was restored and not done yet is newer
            kept = std::move(state);
    }
    versionNow.fetch_add(1, std::memory_order_release);
}

// --- commands

void Session::post(std::function<void()> command)
{
    commands.post(
        [this, command = std::move(command)]
        {
            command();
            changed = true;
        });
    if (parts.wake)
        parts.wake();
}

void Session::setPlan(const TakePlan& wanted)
{
    set(parts.parameters.level, wanted.levelDbfs);
    set(parts.parameters.seconds, wanted.sweepSeconds);
    fromHz.store(wanted.fromHz);
    toHz.store(wanted.toHz);
    post([] {});
}

void Session::startTake()
{
    startsWaiting.fetch_add(1);
    const Start start{ stops.load() };
    post(
        [this, start]
        {
            beginTake(start);
            startsWaiting.fetch_sub(1);
        });
}

/** Counts at whichever point it comes: of a start that waits too. */
void Session::stopFor(StopCause cause)
{
    lastStop.store(cause);
    stops.fetch_add(1);
    parts.worker.stop(cause); // at once: it does not wait for the analysis side
    post([] {});
}

void Session::stop()
{
    stopFor(StopCause::asked);
}

void Session::acknowledge()
{
    parts.runner.acknowledge();
    post([this] { forget(Concern::take); });
}

void Session::windowClosed()
{
    const auto phase = phaseNow();
    const bool underWay = phase == LiveState::Phase::preparing || phase == LiveState::Phase::taking;
    if (underWay && !hostStarted.load())
        stopFor(StopCause::windowClosed);
}

void Session::letHostStart(bool allowed)
{
    post([this, allowed] { hostMayStart = allowed; });
}

void Session::usePracticeRoom(bool practice)
{
    post([this, practice] { practiceRoom = practice; });
}

void Session::careWasRead()
{
    post([this] { changeSettings([](UserSettings& mine) { mine.careReadAt = isoTimeNow(); }); });
}

void Session::changeTrial(const std::function<Outcome()>& change)
{
    // A take belongs to the trial in which it began.
    if (ownTake && !takeStance.empty())
        return say({ Concern::trial,
                     true,
                     { "take-under-way", "A take is under way, which belongs to this trial", "",
                       "Wait until it is over, or stop it" } });
    const auto outcome = change();
    say(Concern::trial, outcome);
    sayOpenNotes();
    if (outcome)
        remember(keeper.identity().folder);
}

void Session::newTrial(const std::string& name, const std::string& parent)
{
    post(
        [=, this]
        {
            changeTrial(
                [&] {
                    return keeper.create(name,
                                         parent.empty() ? trialsFolder() : std::filesystem::path(parent));
                });
        });
}

void Session::openTrial(const std::string& folder)
{
    post([=, this] { changeTrial([&] { return keeper.open(folder); }); });
}

void Session::saveTrialIn(const std::string& parent)
{
    post([=, this] { changeTrial([&] { return keeper.saveIn(parent); }); });
}

void Session::describeMonitor(const std::string& formerName, const Monitor& monitor)
{
    post(
        [=, this]
        {
            const auto described = keeper.describe(formerName, monitor);
            say(Concern::trial, described);
            const auto stance = parseStance(stood.stance);
            if (!described || !stance || stance->monitor != formerName)
                return;
            // The take under way goes with its pair's new name.
            const auto renamed = parseStance(Stance{ monitor.name, stance->orientation }.name());
            stood.stance = renamed ? renamed->name() : stood.stance;
            if (!takeStance.empty())
                takeStance = stood.stance;
        });
}

void Session::nameTrial(const std::string& name)
{
    post([=, this] { say(Concern::trial, keeper.nameTrial(name)); });
}

void Session::standHere(const std::string& stance)
{
    post([=, this] { keeper.standHere(stance); });
}

void Session::standAgain()
{
    post([this] { keeper.standAgain(); });
}

void Session::setAppearance(const Appearance& appearance)
{
    post(
        [=, this]
        {
            changeSettings(
                [=](UserSettings& mine)
                {
                    mine.dark = appearance.dark;
                    mine.scalePercent = std::clamp(appearance.scalePercent, 100, 250);
                    mine.reduceMotion = appearance.reduceMotion;
                });
        });
}

void Session::dismiss(const std::string& problemCode)
{
    post(
        [=, this]
        { std::erase_if(messages, [&](const SessionMessage& m) { return m.problem.code == problemCode; }); });
}

void Session::showAudioSettings()
{
    std::function<void()> open;
    {
        const std::scoped_lock guard(lock);
        open = openAudioSettings;
    }
    if (open)
        open();
}

void Session::setAudioSettingsOpener(std::function<void()> opener)
{
    {
        const std::scoped_lock guard(lock);
        openAudioSettings = std::move(opener);
    }
    post([] {});
}

// --- host state

SessionState Session::state() const
{
    const std::scoped_lock guard(lock);
    return kept;
}

void Session::restore(const RestoredState& restored)
{
    restoresWaiting.fetch_add(1);
    {
        const std::scoped_lock guard(lock);
        kept = restored.session;
    }
    post(
        [=, this]
        {
            takeBack(restored);
            restoresWaiting.fetch_sub(1);
        });
}

void Session::takeBack(const RestoredState& restored)
{
    setAside = restored.session.setAside;
    if (!restored.sound)
        return say(
            { Concern::settings,
              true,
              { "state-damaged", "What the session had kept could not be read", "", keptAside(setAside) } });
    practiceRoom = restored.session.practiceRoom;
    const auto& identity = restored.session.trial;
    say(Concern::trial, identity.folder.empty() ? keeper.close() : keeper.find(identity));
    sayOpenNotes();
    if (!restored.session.hereNow.empty())
        keeper.standHere(restored.session.hereNow, restored.session.hereSetUp);
}

// --- settings and messages

void Session::begin()
{
    assertNotOnAudioThread();
    begun = true;
    auto read = readUserSettings();
    if (read)
        settings = std::move(*read);
    else
        say({ Concern::settings, false, read.problem() });
    hostMayStart = settings.hostMayStart;
    changed = true;
}

void Session::changeSettings(const std::function<void(UserSettings&)>& change)
{
    // Another instance may have written since: what is changed here is changed in what is there now. What could
    // not be written before stays as it is here.
    if (settingsAreKept)
        if (auto now = readUserSettings())
            settings = std::move(*now);
    change(settings);
    if (!begun)
        return;
    const auto written = writeUserSettings(settings);
    settingsAreKept = written.ok();
    if (!written)
    {
        auto problem = written.problem();
        problem.what = "The settings hold for this session only: " + problem.what;
        say({ Concern::settings, false, problem });
    }
}

void Session::remember(const std::string& folder)
{
    changeSettings(
        [&](UserSettings& mine)
        {
            constexpr std::size_t most = 10;
            std::erase(mine.recentTrials, folder);
            mine.recentTrials.insert(mine.recentTrials.begin(), folder);
            mine.recentTrials.resize(std::min(mine.recentTrials.size(), most));
        });
}

std::filesystem::path Session::trialsFolder() const
{
    return settings.trialsFolder.empty() ? usualTrialsFolder() : std::filesystem::path(settings.trialsFolder);
}

void Session::say(Concern concern, const Outcome& outcome)
{
    if (outcome)
        forget(concern);
    else
        say({ concern, true, outcome.problem() });
}

void Session::say(SessionMessage message)
{
    std::erase_if(messages, [&](const SessionMessage& m) { return m.problem.code == message.problem.code; });
    messages.push_back(std::move(message));
    changed = true;
}

/** What was found when the trial was opened; that it is read only wants attending to. */
void Session::sayOpenNotes()
{
    for (const auto& problem : keeper.openNotes())
        say({ Concern::trial, problem.code == "trial-in-use" || problem.code == "read-only-folder",
              problem });
}

void Session::forget(Concern concern)
{
    const bool stillHeld = keeper.takesInMemory() > 0;
    std::erase_if(messages, [&](const SessionMessage& m)
                  { return m.concern == concern && !(stillHeld && m.problem.code == "kept-in-memory"); });
    changed = true;
}

}
