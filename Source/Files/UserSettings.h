#pragma once

#include "Core/Result.h"

#include <filesystem>
#include <string>
#include <vector>

namespace plumbline
{

inline constexpr int settingsSchemaVersion = 1;

/** What is kept for the user of this computer, not for a session: "plumbline/settings/1". */
struct UserSettings
{
    std::string careReadAt;    ///< ISO 8601; empty: the page of cautions was never read here
    bool hostMayStart = false; ///< arms the host's parameter in every session, for use without a window
    std::string trialsFolder;  ///< where new trials go; empty: the usual place
    std::vector<std::string> recentTrials; ///< folders, newest first, at most ten
    bool dark = true;
    int scalePercent = 100; ///< 100..250
    bool reduceMotion = false;

    bool operator==(const UserSettings&) const = default;
};

/** [any but audio] Problems: the file is there and damaged, or of a newer version. No file: the defaults. */
Result<UserSettings> readUserSettings();

/** [any but audio] A damaged file is kept beside it under another name. Problems: cannot be written. */
Outcome writeUserSettings(const UserSettings& settings);

}
