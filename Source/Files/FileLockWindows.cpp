#include "Files/FileLock.h"

#ifdef _WIN32

#define WIN32_LEAN_AND_MEAN
#define NOMINMAX
#include <windows.h>

namespace plumbline
{

struct FileLock::Handle
{
    HANDLE file = INVALID_HANDLE_VALUE;
};

FileLock::FileLock(std::unique_ptr<Handle> held) : handle(std::move(held))
{
}

FileLock::~FileLock()
{
    CloseHandle(handle->file);
}

namespace
{
/** One byte far behind the words is locked, so that others can read them. */
OVERLAPPED farBehind()
{
    OVERLAPPED place{};
    place.OffsetHigh = 1;
    return place;
}
}

FileLock::Attempt FileLock::tryHold(const std::filesystem::path& file)
{
    const HANDLE opened = CreateFileW(file.c_str(), GENERIC_READ | GENERIC_WRITE,
                                      FILE_SHARE_READ | FILE_SHARE_WRITE | FILE_SHARE_DELETE, nullptr,
                                      OPEN_ALWAYS, FILE_ATTRIBUTE_NORMAL, nullptr);
    if (opened == INVALID_HANDLE_VALUE)
        return { nullptr, Refusal::notWritable, "error " + std::to_string(GetLastError()) };
    auto place = farBehind();
    if (LockFileEx(opened, LOCKFILE_EXCLUSIVE_LOCK | LOCKFILE_FAIL_IMMEDIATELY, 0, 1, 0, &place))
        return { std::unique_ptr<FileLock>(new FileLock(std::make_unique<Handle>(Handle{ opened }))),
                 Refusal::none,
                 {} };
    const DWORD error = GetLastError();
    CloseHandle(opened);
    const bool held = error == ERROR_LOCK_VIOLATION || error == ERROR_IO_PENDING;
    return { nullptr, held ? Refusal::held : Refusal::unsupported, "error " + std::to_string(error) };
}

void FileLock::write(const std::string& words)
{
    DWORD written = 0;
    SetFilePointer(handle->file, 0, nullptr, FILE_BEGIN);
    WriteFile(handle->file, words.data(), static_cast<DWORD>(words.size()), &written, nullptr);
    SetEndOfFile(handle->file);
}

long FileLock::processNumber()
{
    return static_cast<long>(GetCurrentProcessId());
}

}

#endif
