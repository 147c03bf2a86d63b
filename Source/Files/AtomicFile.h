#pragma once

#include "Core/Result.h"

#include <filesystem>
#include <functional>
#include <set>
#include <string>

namespace plumbline
{

/** Writes a file so that it is there whole or not at all: a temporary file beside it, flushed to the disk,
    renamed. Problems: no such folder, no permission, disk full; nothing is left behind. */
Outcome writeFileWhole(const std::filesystem::path& file, const std::string& bytes);

/** A folder that appears whole or not at all.

    Files are written into a temporary folder beside the wanted one; `commit()` renames it. Without commit
    everything is removed again. */
class NewFolder
{
public:
    /** What an existing folder must be for it to be replaced: written by this program and nothing else in it.
        */
    struct Known
    {
        std::string mainFile;   ///< e.g. "analysis.json"
        std::string schemaStem; ///< e.g. "plumbline/analysis/"
        std::set<std::string>
            contents; ///< names of what this program writes there: files at any depth, folders at the top
    };

    /** Problems: the folder exists (and replacing was not asked, or is refused), or nothing can be written
        there. */
    static Result<NewFolder> begin(const std::filesystem::path& wanted, const Known& known, bool replace);

    NewFolder(NewFolder&& other) noexcept;
    NewFolder& operator=(NewFolder&&) = delete;
    ~NewFolder();

    const std::filesystem::path& path() const noexcept { return temporary; }

    Outcome commit();

private:
    NewFolder(std::filesystem::path wanted, std::filesystem::path temporary, std::filesystem::path firstMade,
              bool replacing);

    std::filesystem::path wanted, temporary;
    std::filesystem::path firstMade; ///< the topmost folder above that had to be made; empty if none
    bool replacing;                  ///< what stands there was looked at and may go
};

}
