#pragma once

#include "Core/Result.h"
#include "Trial/ToleranceMask.h"

#include <filesystem>

namespace plumbline
{

inline constexpr int maskSchemaVersion = 1;

/** Reads a tolerance mask, "plumbline/mask/1".
    Problems: missing, damaged, of another or a newer schema, points that do not ascend, limits crossed. */
Result<ToleranceMask> readMask(const std::filesystem::path& file);

}
