#pragma once

#include "Core/Problem.h"

#include <string>

namespace plumbline::console
{

/** What the program's exit tells. */
enum Exit : int
{
    done = 0,
    failed = 1,
    wrongUse = 2,
    refused = 3,
    doubtful = 4
};

/** Prints a problem on standard error. @return Exit::refused */
int refuse(const Problem& problem);

/** Prints a wrong use on standard error, with how to get help. @return Exit::wrongUse */
int misused(const std::string& sentence, const std::string& command);

/** Prints a line on standard output unless --quiet was given. */
void say(const std::string& line, bool quiet);

/** Progress of a longer work: one line that is rewritten on a terminal, with the time left; plain lines
    elsewhere. */
class Progress
{
public:
    Progress(std::string what, std::size_t steps, bool quiet);
    ~Progress();
    Progress(const Progress&) = delete;
    Progress& operator=(const Progress&) = delete;

    /** @param step counted from 1 */
    void reached(std::size_t step, const std::string& detail);

private:
    std::string what;
    std::size_t steps;
    bool quiet, terminal;
    double began;
};

}
