#include "Trial/LevelMatch.h"

#include "Trial/Bands.h"

#include <cmath>

namespace plumbline
{

double matchLevelDb(const TakeData& take, const Band& band)
{
    double power = 0.0;
    for (const auto& side : take.sides)
        power += std::pow(10.0, 0.1 * pinkMeanDb(side.levelDb, band.fromHz, band.toHz));
    return take.sides.empty() ? unknownValue
                              : 10.0 * std::log10(power / static_cast<double>(take.sides.size()));
}

std::vector<double> trimsFor(const std::vector<double>& levelsDb)
{
    double softest = unknownValue;
    for (const double level : levelsDb)
        softest = std::fmin(softest, level);
    std::vector<double> trims;
    for (const double level : levelsDb)
        trims.push_back(softest - level);
    return trims;
}

}
