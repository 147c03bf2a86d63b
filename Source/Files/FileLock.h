#pragma once

#include <filesystem>
#include <memory>
#include <string>

namespace plumbline
{

/** A file that one opener at a time can hold, in this process or another. The system gives it up when its holder
    dies, however it dies. POSIX in FileLockPosix.cpp, Windows in FileLockWindows.cpp. */
class FileLock
{
public:
    enum class Refusal
    {
        none,
        held,        ///< by another
        notWritable, ///< the file cannot be made or opened for writing
        unsupported, ///< the file system knows no locks
    };

    struct Attempt
    {
        std::unique_ptr<FileLock> lock; ///< null if it was refused
        Refusal refusal = Refusal::none;
        std::string why; ///< the system's words
    };

    /** [any but audio] Tries to hold a file, which is made if it is not there; never waits. */
    static Attempt tryHold(const std::filesystem::path& file);

    FileLock(const FileLock&) = delete;
    FileLock& operator=(const FileLock&) = delete;
    ~FileLock();

    /** Replaces what the file says. A failure is no harm: the words are for people. */
    void write(const std::string& words);

    /** Number of this process, for such words. */
    static long processNumber();

private:
    struct Handle;
    explicit FileLock(std::unique_ptr<Handle> handle);

    std::unique_ptr<Handle> handle;
};

}
