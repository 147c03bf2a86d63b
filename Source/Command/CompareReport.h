#pragma once

#include "Trial/Comparison.h"

#include <string>

namespace plumbline
{

/** [any] The stances in their order, and their readings, as a table for a terminal. Without a line's end at its end. */
std::string comparisonTable(const Comparison& comparison);

}
