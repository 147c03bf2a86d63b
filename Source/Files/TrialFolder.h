#pragma once

#include "Files/Json.h"
#include "Measure/TakeAnalysis.h"
#include "Trial/Trial.h"

#include <filesystem>
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

/** A trial on disk: `trial.json` and `takes/<id>/{capture.wav, capture.json, analysis.json}`.

    [analysis, any but audio] Every write is a temporary file, flushed and renamed; a take is on disk whole
    before trial.json names it, so that a killed process loses at most the take in hand. */
class TrialFolder
{
public:
    /** Makes a new, empty trial. Problems: the folder exists and is not empty, or cannot be written. */
    static Result<TrialFolder> create(const std::filesystem::path& folder, const std::string& name);

    /** Opens a trial. Problems: no trial there, damaged, of a newer schema. */
    static Result<TrialFolder> open(const std::filesystem::path& folder);

    const Trial& trial() const noexcept { return content; }

    const std::filesystem::path& path() const noexcept { return folder; }

    /** Replaces the description (names, sizes, positions), keeping what is not touched. */
    Outcome describe(Trial changed);

    /** Stores a take and files it. @return its id */
    Result<std::string> add(TakeRecord record);

    /** Names of what this program writes in a trial folder, for NewFolder. */
    static const std::set<std::string>& contents();

private:
    TrialFolder(std::filesystem::path folder, Trial trial, Json stored);
    Outcome save(const Trial& trial);

    std::filesystem::path folder;
    Trial content;
    Json stored; ///< trial.json as it was read or written last, with keys that this version does not use
};

/** trial.json as JSON and back. */
Json toJson(const Trial& trial);
Result<Trial> trialFromJson(const Json& value, const std::string& where);

/** Now, as ISO 8601 with the local offset. */
std::string isoTimeNow();

}
