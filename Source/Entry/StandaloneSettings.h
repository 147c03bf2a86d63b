#pragma once

#include "Core/Result.h"

#include <filesystem>
#include <optional>
#include <string>

namespace plumbline
{

/** What our own application keeps from one run to the next: JSON, "plumbline/standalone/1". */
struct StandaloneSettings
{
    std::string processorState; ///< as a host would keep it; any bytes
    std::string audioDevice;    ///< the set-up of the device manager, XML; empty: the system's default
    std::string window;         ///< where the window was; empty: in the middle

    bool operator==(const StandaloneSettings&) const = default;
};

/** Settings, and what there is to say about how they were found. */
struct FoundSettings
{
    StandaloneSettings settings;
    std::optional<Problem> problem;
};

/** Reads the settings; without a file they are the defaults. A file that is damaged or of a newer version is
    kept beside under another name, which the problem tells, so that it is not written over. */
FoundSettings readStandaloneSettings(const std::filesystem::path& file);

/** Makes the folder if need be. Problems: cannot be written. */
Outcome writeStandaloneSettings(const std::filesystem::path& file, const StandaloneSettings& settings);

}
