#pragma once

#include "Core/Result.h"
#include "PracticeRoom/Scenario.h"

#include <filesystem>

namespace plumbline
{

inline constexpr int scenarioSchemaVersion = 1;

/** Reads a practice scenario, "plumbline/scenario/1". A key that is left out keeps the default of Scenario; a
    key that is not known is refused, since it is most often a misspelt one.
    Problems: damaged, of another or a newer schema, or a room that cannot be simulated. */
Result<Scenario> readScenario(const std::filesystem::path& file);

/** The same from text; `where` names its source in the problems. */
Result<Scenario> scenarioFromText(const std::string& text, const std::string& where);

}
