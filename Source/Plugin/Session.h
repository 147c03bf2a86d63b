#pragma once

#include "Files/UserSettings.h"
#include "Plugin/AnalysisWorker.h"
#include "Plugin/CommandQueue.h"
#include "Plugin/EditorInterface.h"
#include "Plugin/HostState.h"
#include "Plugin/PracticeReturn.h"
#include "Plugin/PracticeStand.h"
#include "Plugin/TrialKeeper.h"

namespace plumbline
{

/** One plugin instance as its window, its host and its user's settings see it: joins the take's machine, the
    trial and the practice room, and publishes what there is to see.

    Commands are done by step() on the analysis side; what is seen is a snapshot, published whole. */
class Session final : public EditorInterface
{
public:
    /** What it works with; all outlive it. */
    struct Parts
    {
        Parameters& parameters;
        TakeRunner& runner;
        AnalysisWorker& worker;
        PracticeReturn& practice;
        std::function<void()> wake; ///< [any but audio] makes the analysis side step soon
    };

    explicit Session(Parts parts);

    // --- EditorInterface [message]
    std::uint64_t version() const override { return versionNow.load(std::memory_order_acquire); }

    std::shared_ptr<const SessionView> session() const override;
    LiveState live() override;
    void setPlan(const TakePlan& plan) override;
    void startTake() override;
    void stop() override;
    void acknowledge() override;
    void windowClosed() override;
    void letHostStart(bool allowed) override;
    void usePracticeRoom(bool practice) override;
    void careWasRead() override;
    void newTrial(const std::string& name, const std::string& parent) override;
    void openTrial(const std::string& folder) override;
    void saveTrialIn(const std::string& parent) override;
    void describeMonitor(const std::string& formerName, const Monitor& monitor) override;
    void nameTrial(const std::string& name) override;
    void standHere(const std::string& stance) override;
    void standAgain() override;
    void setAppearance(const Appearance& appearance) override;
    void dismiss(const std::string& problemCode) override;
    void showAudioSettings() override;

    // --- [any but audio]
    SessionState state() const;
    void restore(const RestoredState& restored);
    void setAudioSettingsOpener(std::function<void()> opener);

    // --- [audio]
    /** The host's parameter went on: starts the take if one is armed. */
    void hostAsksForTake() noexcept;

    // --- [analysis]
    /** Does what there is to do now. @return true if something is under way, so that it is called again soon */
    bool step();
    /** Reads the user's settings, and lets them count. Before it nothing is read, armed or filed. */
    void begin();

private:
    /** What an armed take was made for: another plan needs another one. */
    struct Armed
    {
        TakePlan plan;
        StandingPair stood;
        bool practice = false;
        double rateHz = 0.0;

        bool operator==(const Armed&) const = default;
    };

    /** When a start was given: it is void if a stop came after it. */
    struct Start
    {
        unsigned stopsBefore = 0;
    };

    void post(std::function<void()> command);
    void stopFor(StopCause cause);
    bool isVoid(const Start& start);
    LiveState::Phase phaseNow() const;
    TakePlan plan() const;
    Armed wantedNow() const;
    bool mayArm() const;
    void beginTake(const Start& start);
    void requestTake(bool atOnce);
    void disarm();
    bool maySound();
    std::optional<Problem> lendPractice(TakeRequest& request);
    void finish(const TakeResult& result);
    void changeTrial(const std::function<Outcome()>& change);
    void keepArmed();
    void takeBack(const RestoredState& restored);
    void chooseStanceWithoutWindow();
    void changeSettings(const std::function<void(UserSettings&)>& change);
    void remember(const std::string& folder);
    std::filesystem::path trialsFolder() const;
    void say(SessionMessage::Concern concern, const Outcome& outcome);
    void say(SessionMessage message);
    void sayOpenNotes();
    void forget(SessionMessage::Concern concern);
    void publish();
    SessionView seen() const;

    Parts parts;
    CommandQueue commands;
    std::atomic<std::uint64_t> versionNow{ 1 };
    std::atomic<double> sessionRateHz{ 0.0 };
    std::atomic<bool> hostStarted{ false };  ///< the take under way
    std::atomic<bool> atOnce{ true };        ///< the take that is requested does not wait for the host
    std::atomic<bool> endedQuietly{ false }; ///< the last job was taken back, which is nobody's concern
    std::atomic<int> startsWaiting{ 0 };     ///< given, not begun
    std::atomic<unsigned> stops{ 0 };
    std::atomic<StopCause> lastStop{ StopCause::asked };
    std::atomic<int> restoresWaiting{ 0 };
    std::atomic<double> fromHz{ Band{}.fromHz }, toHz{ Band{}.toHz };
    mutable std::mutex lock; ///< guards the three below
    std::shared_ptr<const SessionView> published;
    SessionState kept;
    std::function<void()> openAudioSettings;
    // Analysis thread only.
    bool begun = false, changed = true, disarming = false;
    bool practiceRoom = false, hostMayStart = false, ownTake = false, settingsAreKept = true;
    std::string takeStance, setAside;
    std::optional<Start> startWanted; ///< waits for the Return to be free
    std::optional<Armed> armed;
    StandingPair stood; ///< of the take that is requested or under way
    std::uint64_t lastResult = 0;
    TrialKeeper keeper;
    PracticeStand stand;
    UserSettings settings;
    std::vector<SessionMessage> messages;
};

}
