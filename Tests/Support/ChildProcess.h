#pragma once

#include <csignal>
#include <functional>
#include <string>
#include <sys/wait.h>
#include <unistd.h>

namespace plumbline::test
{

/** How a process ended: by its own exit, or by a signal. */
struct ChildEnd
{
    int exit = -1;
    int signal = 0;

    std::string words() const
    {
        if (signal == SIGALRM)
            return "it did not come to an end";
        return signal != 0 ? "killed by signal " + std::to_string(signal) : "exit " + std::to_string(exit);
    }
};

inline ChildEnd waitFor(pid_t child)
{
    int status = 0;
    while (waitpid(child, &status, 0) < 0 && errno == EINTR)
    {
    }
    ChildEnd end;
    if (WIFEXITED(status))
        end.exit = WEXITSTATUS(status);
    else
        end.signal = WTERMSIG(status);
    return end;
}

inline constexpr int childThrew = 98;

/** Runs `act` in a forked child, whose exit it gives, so that a crash, an endless loop or a limit set there
    stays there. A child that is not done within `limitSeconds` ends with SIGALRM. */
inline ChildEnd runInChild(const std::function<int()>& act, unsigned limitSeconds = 30)
{
    const auto child = fork();
    if (child != 0)
        return waitFor(child);
    for (const int number : { SIGSEGV, SIGABRT, SIGFPE, SIGILL, SIGBUS, SIGTERM, SIGALRM })
        std::signal(number, SIG_DFL);
    alarm(limitSeconds);
    int exit = childThrew;
    try
    {
        exit = act();
    }
    catch (...)
    {
    }
    _exit(exit);
}

}
