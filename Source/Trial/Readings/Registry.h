#pragma once

#include "Trial/Reading.h"

#include <vector>

namespace plumbline
{

/** All readings, in the order in which they are shown. To add one: a file beside this one whose function,
    named like the file in camelCase, gives one or several; its name in PLUMBLINE_READINGS of
    Source/CMakeLists.txt, where every file is named anyhow; a test. */
std::vector<Reading> allReadings(const ReadingContext& context);

}
