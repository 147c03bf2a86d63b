#pragma once

#include <filesystem>

namespace plumbline
{

/** [any but audio] Where this user's settings live: the folder named by the environment's PLUMBLINE_SETTINGS,
    or `Plumbline` in the usual place of the system. It need not exist. */
std::filesystem::path userSettingsFolder();

/** [any but audio] Where new trials go unless the user says otherwise: `Plumbline` in the user's documents. */
std::filesystem::path usualTrialsFolder();

}
