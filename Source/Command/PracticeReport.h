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

/** Writes into an existing folder: a picture and a CSV a stance, and one picture of all stances together. */
Outcome writePracticePictures(const std::filesystem::path& folder, const std::string& room, const std::vector<PracticeRow>& rows);

/** What writePracticePictures writes for these stances. */
std::set<std::string> practicePictureNames(const std::vector<Stance>& stances);

}
