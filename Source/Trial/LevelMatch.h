#pragma once

#include "Measure/Sweep.h"
#include "Trial/StanceData.h"

namespace plumbline
{

/** The band over which stances are brought to one level, unless another is asked for. */
inline constexpr Band usualMatchBand{ 300.0, 3000.0 };

/** Level of a take over the band: mean power, each octave weighing the same, of both sides together.
    Unknown if any part of the band is. */
double matchLevelDb(const TakeData& take, const Band& band);

/** By how much to turn each stance at the monitor selector so that all play as loud as the softest: 0 or
    less, never a boost. @param levelsDb of the stances; unknown ones stay unknown */
std::vector<double> trimsFor(const std::vector<double>& levelsDb);

}
