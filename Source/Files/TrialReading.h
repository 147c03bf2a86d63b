#pragma once

#include "Files/Json.h"
#include "Trial/Trial.h"

#include <filesystem>
#include <functional>
#include <map>
#include <optional>
#include <string>

namespace plumbline
{

/** What makes a trial.json of one version into one of the next. */
using TrialMigrations = std::map<int, std::function<Result<Json>(Json)>>;

/** Those of this program, by the version they begin with. */
const TrialMigrations& trialMigrations();

/** A trial.json as it was read. */
struct TrialText
{
    std::string text; ///< as it is on the disk
    Json json;        ///< upgraded
    Trial trial;
    int version = 0;              ///< of the text
    std::optional<Problem> newer; ///< its version is above ours: what we know of it was read
};

/** [any but audio] Reads the trial.json of a folder. Problems: missing, damaged, of another schema, of an older
    version that no migration leads from, of a newer one that does not say what ours says. Nothing is written. */
Result<TrialText> readTrialText(const std::filesystem::path& folder,
                                const TrialMigrations& migrations = trialMigrations());

}
