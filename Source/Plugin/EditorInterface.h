#pragma once

#include "Core/Problem.h"
#include "Measure/Fault.h"
#include "Measure/FrequencyResponse.h"
#include "Trial/Trial.h"

#include <cstdint>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace plumbline
{

/** What moves while the window looks: meters and the take's place in time. Plain values, read as often as the
    window draws. */
struct LiveState
{
    enum class Phase
    {
        idle,      ///< the mix passes
        preparing, ///< asked for, not begun
        armed,     ///< the host may start it
        taking,    ///< the stimulus plays, or is about to
        stopping,  ///< fading to silence
        analysing, ///< the take is over and being looked at
        stopped    ///< ended before its time; the reason is among the messages
    };

    Phase phase = Phase::idle;
    double elapsedSeconds = 0.0;        ///< of the take's stream
    bool mustAcknowledge = false;       ///< the output stays silent until acknowledge()
    bool hostStarted = false;           ///< the take under way was started by the host
    bool returnConnected = false;       ///< the host gives the plugin a Return
    bool hostIsRendering = false;       ///< a file is being rendered: no take
    double sampleRateHz = 0.0;          ///< 0 until the host runs the audio
    float microphonePeakDbfs = -200.0f; ///< largest since the last call; -200 for nothing at all
    float loopbackPeakDbfs = -200.0f;

    /** Anything is to be heard, or about to be, that is not the mix. */
    bool sounds() const noexcept { return phase == Phase::taking || phase == Phase::stopping; }
};

/** One unbroken stream, as it lies in time. */
struct TakeTimes
{
    double quietSeconds = 1.0; ///< before the left sweep
    double sweepSeconds = 3.0;
    double restSeconds = 1.0; ///< after the left sweep; of a single monitor this is the tail
    bool pair = true;
    double tailSeconds = 1.0; ///< after the right sweep

    double totalSeconds() const noexcept
    {
        return quietSeconds + sweepSeconds + restSeconds + (pair ? sweepSeconds + tailSeconds : 0.0);
    }
};

/** What one take shows. */
struct TakeCurves
{
    std::string takeId; ///< empty if it is not on disk
    int setUp = 1;      ///< number of the set-up among those of its stance
    int take = 1;       ///< among the takes of its set-up, from 1
    FrequencyResponse left;
    std::optional<FrequencyResponse> right;
    bool levelIsSpl = false; ///< levelDb is dB SPL; otherwise dB of microphone over reference
    std::string smoothing;   ///< in words: "1/12 octave"
    std::vector<Fault> faults;

    bool doubtful() const
    {
        for (const auto& fault : faults)
            if (fault.severity == Fault::Severity::doubt)
                return true;
        return false;
    }
};

/** The takes of one stance that are drawn: the newest and the one before it. */
struct StanceCurves
{
    std::shared_ptr<const TakeCurves> newest, before;
};

/** Something that is said beside the thing it concerns, never in a modal. */
struct SessionMessage
{
    enum class Concern
    {
        take,  ///< said in Capture
        trial, ///< said by the trial's name
        sound, ///< what may be heard
        settings
    };

    Concern concern = Concern::take;
    bool attend = false; ///< the user must do something
    Problem problem;     ///< code, what, where, remedy
};

/** The trial as the window shows it. */
struct TrialView
{
    enum class Place
    {
        unnamed,  ///< nothing on disk yet: it is made with the first take, or when it is given a name
        folder,   ///< kept in `folder`
        memory,   ///< the folder cannot be written: takes are held until it is saved elsewhere
        missing,  ///< the session names a trial that is not where it was
        readOnly, ///< opened, but not to be written
    };

    Place place = Place::unnamed;
    std::string folder;
    std::shared_ptr<const Trial> trial;         ///< never null
    std::string hereNow;                        ///< name of the stance that stands there; empty: not told
    int hereSetUp = 1;                          ///< its number among the set-ups of that stance
    std::map<std::string, StanceCurves> curves; ///< by the stance's name
    int takesInMemory = 0;
};

/** How the window looks; kept for the computer, not for the session. */
struct Appearance
{
    bool dark = true;
    int scalePercent = 100; ///< 100..250
    bool reduceMotion = false;

    bool operator==(const Appearance&) const = default;
};

/** The settings of the next take. */
struct TakePlan
{
    double levelDbfs = -40.0; ///< of the sweep's peak, -80..-6
    double sweepSeconds = 5.0;
    double fromHz = 20.0, toHz = 20000.0;

    bool operator==(const TakePlan&) const = default;
};

/** Everything the window shows that does not move by itself. Immutable; a new one whenever anything changed.
    */
struct SessionView
{
    TrialView trial;
    TakePlan plan;
    TakeTimes times;           ///< of the next take, or of the one under way
    std::string takeUnderWay;  ///< stance of the take under way; empty if there is none
    bool careWasRead = false;  ///< once per computer; nothing sounds before it
    bool practiceRoom = false; ///< the practice room stands in for the Return; nothing sounds
    bool hostMayStart = false; ///< the user lets the host's parameter start a take
    bool standalone = false;   ///< our own application: there are audio settings
    Appearance appearance;
    std::string trialsFolder;              ///< where new trials go
    std::vector<std::string> recentTrials; ///< folders, newest first
    std::vector<SessionMessage> messages;
};

/** All that a window may ask of the plugin, and all it may see: commands out, immutable snapshots in.

    [message] Nothing here waits: a command is done by the analysis thread, and what came of it is in a later
    snapshot. With no window everything goes on the same. */
class EditorInterface
{
public:
    virtual ~EditorInterface() = default;

    // --- what there is to see
    /** Changes whenever session() would give another snapshot. */
    virtual std::uint64_t version() const = 0;
    virtual std::shared_ptr<const SessionView> session() const = 0;
    virtual LiveState live() = 0;

    // --- the take
    virtual void setPlan(const TakePlan& plan) = 0;
    /** Takes the stance that stands here. What keeps it from beginning comes as a message. */
    virtual void startTake() = 0;
    /** Silences whatever sounds, from any stage. */
    virtual void stop() = 0;
    /** Lets the mix come back after a stop that must be acknowledged. */
    virtual void acknowledge() = 0;
    /** Stops a take unless the host started it. */
    virtual void windowClosed() = 0;
    virtual void letHostStart(bool allowed) = 0;
    virtual void usePracticeRoom(bool practice) = 0;
    virtual void careWasRead() = 0;

    // --- the trial
    /** Makes a trial folder of this name. @param parent empty: the usual place */
    virtual void newTrial(const std::string& name, const std::string& parent) = 0;
    /** Opens a trial; also tells where a missing one is. */
    virtual void openTrial(const std::string& folder) = 0;
    /** Keeps what is in memory in a new folder. */
    virtual void saveTrialIn(const std::string& parent) = 0;
    /** Adds a monitor, or changes the one of that name. A changed name keeps its takes.
        @param formerName empty: a new one */
    virtual void describeMonitor(const std::string& formerName, const Monitor& monitor) = 0;
    virtual void nameTrial(const std::string& name) = 0;
    /** Says which stance stands here. A stance that was not here a moment ago begins a new set-up. */
    virtual void standHere(const std::string& stance) = 0;
    /** Says that the cabinets were lifted and put back: a new set-up of the same stance. */
    virtual void standAgain() = 0;

    // --- the window itself
    virtual void setAppearance(const Appearance& appearance) = 0;
    virtual void dismiss(const std::string& problemCode) = 0;
    /** [message] Opens the audio settings of our own application; does nothing in a host. */
    virtual void showAudioSettings() = 0;
};

}
