#include "Command/Console.h"

#include <cmath>
#include <iostream>
#include <juce_core/juce_core.h>

#if JUCE_WINDOWS
#include <io.h>
#else
#include <unistd.h>
#endif

namespace plumbline::console
{

namespace
{
bool standardOutputIsTerminal()
{
#if JUCE_WINDOWS
    return _isatty(1) != 0;
#else
    return isatty(1) != 0;
#endif
}
}

int refuse(const Problem& problem)
{
    std::cerr << "plumbline: " << problem.sentence() << std::endl;
    return refused;
}

int misused(const std::string& sentence, const std::string& command)
{
    std::cerr << "plumbline: " << sentence << (sentence.ends_with('.') ? "" : ".") << " See: plumbline "
              << (command.empty() ? "" : command + " ") << "--help" << std::endl;
    return wrongUse;
}

void say(const std::string& line, bool quiet)
{
    if (!quiet)
        std::cout << line << std::endl;
}

Progress::Progress(std::string work, std::size_t count, bool isQuiet)
    : what(std::move(work)), steps(count), quiet(isQuiet), terminal(standardOutputIsTerminal()),
      began(juce::Time::getMillisecondCounterHiRes())
{
}

Progress::~Progress()
{
    if (!quiet && terminal)
        std::cout << "\r\033[K" << std::flush;
}

void Progress::reached(std::size_t step, const std::string& detail)
{
    if (quiet)
        return;
    const double seconds = (juce::Time::getMillisecondCounterHiRes() - began) / 1000.0;
    const double left = seconds * static_cast<double>(steps - step) / static_cast<double>(step);
    const auto counted = what + ' ' + std::to_string(step) + " of " + std::to_string(steps);
    if (terminal)
        std::cout << "\r\033[K" << counted << ", " << std::lround(std::ceil(left)) << " s left: " << detail
                  << std::flush;
    else
        std::cout << counted << ": " << detail << std::endl;
}

}
