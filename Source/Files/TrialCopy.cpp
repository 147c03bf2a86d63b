#include "Files/AnalysisFile.h"
#include "Files/AtomicFile.h"
#include "Files/TrialFolder.h"
#include "Files/TrialInspection.h"

#include <algorithm>

namespace plumbline
{

namespace fs = std::filesystem;

namespace
{

/** Copies a folder but for its lock and what was left unfinished; times of files are kept. */
void copyTree(const fs::path& from, const fs::path& to, std::error_code& error)
{
    fs::create_directories(to, error);
    for (auto entry = fs::directory_iterator(from, error); !error && entry != fs::directory_iterator();
         entry.increment(error))
    {
        const auto name = entry->path().filename().string();
        if (isUnfinishedName(name) || name == TrialLock::fileName)
            continue;
        if (entry->is_directory(error))
            copyTree(entry->path(), to / name, error);
        else if (entry->is_regular_file(error) && fs::copy_file(entry->path(), to / name, error))
            fs::last_write_time(to / name, entry->last_write_time(), error);
        if (error)
            return;
    }
}

bool liesIn(const fs::path& inner, const fs::path& outer)
{
    std::error_code error;
    const auto path = fs::weakly_canonical(inner, error), top = fs::weakly_canonical(outer, error);
    return std::mismatch(top.begin(), top.end(), path.begin(), path.end()).first == top.end();
}

}

Result<TrialFolder> TrialFolder::copyTo(const fs::path& target) const
{
    if (liesIn(target, folder))
        return Problem{ "inside-itself", "A trial cannot be copied into itself", target.string(),
                        "Choose another folder" };
    auto made = NewFolder::begin(target, {}, false);
    if (!made)
        return made.problem();
    std::error_code error;
    copyTree(folder, made->path(), error);
    if (error)
        return Problem{ "cannot-write", "The trial cannot be copied (" + error.message() + ")",
                        target.string(), "Check the disk's space and the folder's permissions" };
    auto own = stored;
    own["id"] = newTrialId();
    own["copiedFrom"] = content.id;
    if (auto written = writeFileWhole(made->path() / "trial.json", toText(own)); !written)
        return written.problem();
    if (auto kept = made->commit(); !kept)
        return kept.problem();
    return open(target);
}

}
