#pragma once

#include "Core/Problem.h"
#include "Trial/Trial.h"

#include <filesystem>
#include <vector>

namespace plumbline
{

/** [any but audio] What a trial's folder holds that is not as trial.json has it, each named; by names, sizes and
    first bytes alone. Codes: "take-missing", "take-elsewhere", "capture-missing", "capture-damaged", "notes-missing",
    "analysis-missing", "orphan-take", "unfinished", "foreign-file". */
std::vector<Problem> inspectTrialFolder(const std::filesystem::path& folder, const Trial& trial);

/** Where a take's files are: in `takes` or, of a discarded one, in `discarded`; in the other where a process died
    between moving them and saying so; where they should be if they are in neither. */
std::filesystem::path takeFolderOf(const std::filesystem::path& folder, const Trial& trial,
                                   const std::string& id);

/** Moves the files of takes to where trial.json says they are. @return a note for each that was moved, or could not be
    */
std::vector<Problem> reconcileTakes(const std::filesystem::path& folder, const Trial& trial);

/** Removes what a process that died left unfinished: under a temporary name of ours, holding nothing but what this
    program writes, and older than this process. Only for who holds the trial's lock. */
void sweepUnfinished(const std::filesystem::path& folder);

/** Whether a name is one that this program gives to what is not finished. */
bool isUnfinishedName(const std::string& name);

}
