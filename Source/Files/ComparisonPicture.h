#pragma once

#include "Trial/Comparison.h"

#include <map>
#include <string>

namespace plumbline
{

/** [any] Pictures of a comparison by file name, as SVG: "levels.svg", all stances at one level; and, where two or more
    were compared, "difference-left.svg" and "difference-right.svg", the leader less the next with its interval. */
std::map<std::string, std::string> comparisonPictures(const Comparison& comparison);

/** Level of a stance at the seat, matched: mean over its takes and set-ups, then mean power of its sides, in dB. */
Curve matchedLevel(const MatchedStance& stance);

}
