#pragma once

#include "Core/Problem.h"
#include "Files/FileLock.h"

#include <filesystem>
#include <memory>
#include <optional>

namespace plumbline
{

/** Who may write in a trial folder: one at a time, told by a lock on its file `trial.lock`. The file stays when the
    lock is given up, and says nothing by being there; a dead process holds nothing. */
class TrialLock
{
public:
    static constexpr auto fileName = "trial.lock";

    struct Attempt
    {
        std::unique_ptr<TrialLock> lock;
        std::optional<Problem> refusal; ///< why there is none
        std::optional<Problem> note;    ///< what is to be said though there is one
    };

    /** [any but audio] Problems: "trial-in-use" (says by whom), "read-only-folder". A file system without locks gives
        one that keeps nobody out, and the note "no-locks". */
    static Attempt take(const std::filesystem::path& folder);

private:
    explicit TrialLock(std::unique_ptr<FileLock> held) : lock(std::move(held)) {}

    std::unique_ptr<FileLock> lock; ///< null where the file system knows none
};

}
