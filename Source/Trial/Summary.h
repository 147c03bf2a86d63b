#pragma once

#include "Trial/Comparison.h"

#include <string>
#include <vector>

namespace plumbline
{

/** The comparison in plain sentences: who leads and how firmly; what decided it; how sure the order is;
    where the leader differs from the same pair stood otherwise; what to measure next; what else must be
    known. */
std::vector<std::string> summaryOf(const Comparison& comparison);

}
