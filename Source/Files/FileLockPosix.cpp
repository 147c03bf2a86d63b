#include "Files/FileLock.h"

#ifndef _WIN32

#include <cerrno>
#include <cstring>
#include <fcntl.h>
#include <sys/file.h>
#include <unistd.h>

namespace plumbline
{

struct FileLock::Handle
{
    int number = -1;
};

FileLock::FileLock(std::unique_ptr<Handle> held) : handle(std::move(held))
{
}

FileLock::~FileLock()
{
    close(handle->number);
}

/** flock() and not fcntl(): it belongs to one opening of the file, so that two instances in one process exclude each
    other and closing the file elsewhere does not give it up. */
FileLock::Attempt FileLock::tryHold(const std::filesystem::path& file)
{
    const int number = open(file.c_str(), O_RDWR | O_CREAT | O_CLOEXEC, 0666);
    if (number < 0)
        return { nullptr, Refusal::notWritable, std::strerror(errno) };
    int failed = 0;
    do
        failed = flock(number, LOCK_EX | LOCK_NB);
    while (failed != 0 && errno == EINTR);
    if (failed == 0)
        return { std::unique_ptr<FileLock>(new FileLock(std::make_unique<Handle>(Handle{ number }))),
                 Refusal::none,
                 {} };
    const int error = errno;
    close(number);
    return { nullptr, error == EWOULDBLOCK ? Refusal::held : Refusal::unsupported, std::strerror(error) };
}

void FileLock::write(const std::string& words)
{
    if (ftruncate(handle->number, 0) == 0)
        static_cast<void>(pwrite(handle->number, words.data(), words.size(), 0) >= 0);
}

long FileLock::processNumber()
{
    return static_cast<long>(getpid());
}

}

#endif
