#pragma once

#include <fstream>
#include <malloc.h>
#include <sstream>
#include <string>

namespace plumbline::bench
{

/** The system's own count of this process' memory (Linux). Begins a new peak when made.

    Memory that was freed but not given back would hide what comes after it: it is given back first. */
class ResidentMemory
{
public:
    ResidentMemory()
    {
        malloc_trim(0);
        std::ofstream("/proc/self/clear_refs") << "5"; // sets VmHWM to what is there now; see proc(5)
        idleKilobytes = kilobytes("VmRSS:");
    }

    double peakAboveMegabytes() const { return (kilobytes("VmHWM:") - idleKilobytes) / 1024.0; }

private:
    static double kilobytes(const std::string& name)
    {
        std::ifstream status("/proc/self/status");
        for (std::string line; std::getline(status, line);)
            if (line.starts_with(name))
                return std::stod(line.substr(name.size()));
        return 0.0;
    }

    double idleKilobytes = 0.0;
};

}
