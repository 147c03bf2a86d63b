#pragma once

#include "Core/Result.h"
#include "Files/TrialFolder.h"

#include <filesystem>
#include <string>
#include <vector>

namespace plumbline
{

/** One take of a practice trial, as it is reported. */
struct PracticeRow
{
    Stance stance;
    TakeAnalysis analysis;
};

/** A short table: a line a stance, from its first take. */
std::string practiceTable(const std::vector<PracticeRow>& rows);

/** Writes into an existing folder: a picture and a CSV a stance, a picture a monitor in all its orientations,
    and one of everything. */
Outcome writePracticePictures(const std::filesystem::path& folder, const std::string& room,
                              const std::vector<PracticeRow>& rows);

}
