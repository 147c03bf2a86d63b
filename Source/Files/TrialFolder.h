#pragma once

#include "Files/Json.h"
#include "Files/TakeSummary.h"
#include "Files/TrialLock.h"
#include "Files/TrialReading.h"
#include "Measure/TakeAnalysis.h"
#include "Trial/Trial.h"
#include "Trial/TrialActs.h"

#include <filesystem>
#include <memory>
#include <set>
#include <string>

namespace plumbline
{

inline constexpr int trialSchemaVersion = 1;

/** A take ready to be stored: what was captured and under which conditions, and what was found in it. */
struct TakeRecord
{
    Capture capture;
    TakeAnalysis analysis;
    TakeFiling filing; ///< takeId is chosen by the folder
};

/** What was found when a trial was opened. */
struct OpenReport
{
    /** Why it is not to be written here; nothing if it is. Codes: "trial-in-use", "read-only-folder",
        "future-schema". */
    std::optional<Problem> readOnly;
    /** What is not as trial.json has it, or was put right: codes of inspectTrialFolder, and "take-moved-back",
        "upgraded", "no-locks", of summaries "analysis-damaged". What is sound is open all the same. */
    std::vector<Problem> notes;
};

/** What summaries of takes could be read. */
struct SummaryReading
{
    std::vector<TakeSummary> takes; ///< in the order of the trial's takes, without those of the notes
    std::vector<Problem> notes;     ///< "analysis-missing", "analysis-damaged"; the take is named
};

/** A trial on disk: `trial.json`, `takes/<id>/{capture.wav, capture.json, analysis.json, summary.json}`, the same
    under `discarded`, and `trial.lock`.

    [analysis, any but audio] Every write is a temporary file, flushed and renamed; a take is on disk whole
    before trial.json names it, so that a killed process loses at most the take in hand. Nothing is ever deleted.
    One object at a time may write, the others read; which, is settled when it is opened. */
class TrialFolder
{
public:
    /** Makes a new, empty trial. Problems: the folder exists and is not empty, or cannot be written. */
    static Result<TrialFolder> create(const std::filesystem::path& folder, const std::string& name);

    /** Opens a trial, for writing if nobody else does: see report(). An older version is upgraded on the disk, and
        its file kept as `trial.json.version-N`. Problems: no trial there, damaged, of a newer schema that does not
        say what this one says. Then nothing is written. */
    static Result<TrialFolder> open(const std::filesystem::path& folder,
                                    const TrialMigrations& migrations = trialMigrations());

    const Trial& trial() const noexcept { return content; }

    const std::filesystem::path& path() const noexcept { return folder; }

    const OpenReport& report() const noexcept { return found; }

    bool mayWrite() const noexcept { return lock != nullptr; }

    /** Reads trial.json again if it is another now, by another's hand. Problems: as of open(). */
    Outcome refresh();

    /** Becomes the one that writes, if nobody else does now; reads the trial again. Problems: those of
        OpenReport::readOnly. */
    Outcome startWriting();

    /** Lets others write. */
    void stopWriting();

    /** Replaces the description (names, sizes, positions), keeping what is not touched. */
    Outcome describe(Trial changed);

    /** Stores a take and files it. @return its id */
    Result<std::string> add(TakeRecord record);

    /** Does an act, on the disk too: the files of a take that is discarded or restored move.
        @return the act that takes it back. Problems: those of plumbline::act, read only, cannot be written. */
    Result<TrialAct> act(const TrialAct& wanted);

    /** Where a take's files are, counted or discarded. */
    std::filesystem::path takeFolder(const std::string& takeId) const;

    /** Summaries of all takes that are not discarded. */
    SummaryReading summaries() const;

    /** Copies all of it to a new folder, which appears whole or not at all. The copy is a trial of its own, with an
        own id. Problems: the folder exists, lies in this one, or cannot be written. */
    Result<TrialFolder> copyTo(const std::filesystem::path& target) const;

    /** Names of what this program writes in a trial folder, for NewFolder. */
    static const std::set<std::string>& contents();

private:
    TrialFolder(std::filesystem::path folder, TrialText read);
    Outcome save(const Trial& trial);
    Outcome readyToWrite();
    Outcome upgrade();
    void takeOver(TrialText read);

    std::filesystem::path folder;
    Trial content;
    Json stored;      ///< trial.json as it was read or written last, with keys that this version does not use
    std::string text; ///< the same as it is on the disk
    int version = 0;  ///< of the text
    OpenReport found;
    std::unique_ptr<TrialLock> lock; ///< null: read only
};

/** trial.json as JSON and back. */
Json toJson(const Trial& trial);
Result<Trial> trialFromJson(const Json& value, const std::string& where);

/** The files of one take, each whole or not at all. Problems: no space, no permission. */
Outcome writeTakeFiles(const std::filesystem::path& folder, const TakeRecord& record, int setUp);

/** A new id of a trial or a take: twelve hexadecimal digits. */
std::string newTrialId();

/** Now, as ISO 8601 with the local offset. */
std::string isoTimeNow();

}
