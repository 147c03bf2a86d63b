#pragma once

#include "Files/TrialFolder.h"
#include "Plugin/EditorInterface.h"
#include "Plugin/HostState.h"

#include <optional>
#include <vector>

namespace plumbline
{

/** Which stance stands there, and how often it was stood up until now. */
struct StandingPair
{
    std::string stance;
    int setUp = 1;

    bool operator==(const StandingPair&) const = default;
};

/** [analysis] The trial of one plugin instance: on disk if it can be, in memory if it cannot. Files takes where
    they belong and keeps the curves that are drawn. */
class TrialKeeper
{
public:
    TrialKeeper();

    // --- which trial
    /** Makes a new trial `parent`/`name`; what was told of monitors before a trial had a name goes with it. */
    Outcome create(const std::string& name, const std::filesystem::path& parent);
    Outcome open(const std::filesystem::path& folder);
    /** Finds the trial of a session again. If it is not there, or another is, it stays missing and says so. */
    Outcome find(const TrialIdentity& identity);
    /** Leaves the trial as it is, and begins without one. */
    Outcome close();
    /** Puts a trial and the takes held in memory into a new folder. */
    Outcome saveIn(const std::filesystem::path& parent);
    TrialIdentity identity() const;
    /** What is to be said of the trial that was opened: first why it is read only, if it is. */
    std::vector<Problem> openNotes() const;

    // --- what is in it
    Outcome describe(const std::string& formerMonitor, const Monitor& monitor);
    Outcome nameTrial(const std::string& name);
    /** @param setUp 0: as the newest take tells */
    void standHere(const std::string& stance, int setUp = 0);
    void standAgain();
    /** Files a take under the stance that stood there when it began. A trial without a folder is given one in
        `trialsFolder`. Where nothing can be written the take stays in memory: the problem says so, and nothing is
        lost. */
    Outcome file(const StandingPair& stood, Capture capture, TakeAnalysis analysis,
                 const std::filesystem::path& trialsFolder);

    const Trial& trial() const { return folder ? folder->trial() : *unfiled; }

    const StandingPair& here() const noexcept { return standing; }

    const std::string& hereNow() const noexcept { return standing.stance; }

    int hereSetUp() const noexcept { return standing.setUp; }

    std::size_t takesInMemory() const noexcept { return held.size(); }

    Monitor::Kind hereKind() const;
    /** Takes of the set-up that stands here. */
    int takesHere() const;

    /** All of it for the window. */
    TrialView view() const;

private:
    void takeOver(TrialFolder opened);
    Result<TrialFolder> openAt(const std::filesystem::path& where);
    void readAgain();
    Outcome returnTo(const TrialIdentity& former);
    Outcome makeFolder(const std::string& name, const std::filesystem::path& parent);
    Outcome ensureFolder(const std::filesystem::path& trialsFolder);
    Outcome change(Result<Trial> changed);
    void rename(const std::string& former, const std::string& name);
    Outcome keepInMemory(const Problem& why);
    Outcome writeHeldTakes();
    void loadCurves();
    void show(const TakeEntry& entry, TakeCurves drawn);

    std::optional<TrialFolder> folder;
    std::shared_ptr<const Trial> unfiled; ///< the trial while it has no folder
    std::vector<TakeRecord> held;         ///< takes that could not be written
    TrialIdentity missing;                ///< of the trial that is not there, or cannot be written now
    TrialView::Place place = TrialView::Place::unnamed;
    StandingPair standing;
    std::map<std::string, int> lifted; ///< set-ups that were told and have no take yet, by stance
    std::vector<std::pair<std::string, Monitor>> untold; ///< descriptions that could not be written, in order
    std::map<std::string, StanceCurves> curves;
};

}
