#include "Trial/TrendLine.h"

#include "Trial/Bands.h"

#include <cmath>

namespace plumbline
{

TrendLine trendLine(std::span<const double> octaves, std::span<const double> levelsDb)
{
    const std::size_t count = octaves.size();
    if (count < 3)
        return { unknownValue, unknownValue, unknownValue, unknownValue };
    TrendLine line;
    for (std::size_t i = 0; i < count; ++i)
    {
        line.meanOctave += octaves[i] / static_cast<double>(count);
        line.meanLevel += levelsDb[i] / static_cast<double>(count);
    }
    double product = 0.0, square = 0.0;
    for (std::size_t i = 0; i < count; ++i)
    {
        product += (octaves[i] - line.meanOctave) * (levelsDb[i] - line.meanLevel);
        square += (octaves[i] - line.meanOctave) * (octaves[i] - line.meanOctave);
    }
    line.slopePerOctave = product / square;
    double stray = 0.0;
    for (std::size_t i = 0; i < count; ++i)
        stray += std::pow(levelsDb[i] - line.at(octaves[i]), 2);
    line.strayDb = std::sqrt(stray / static_cast<double>(count));
    return line;
}

TrendLine trendOf(const std::vector<double>& thirds, const std::vector<std::size_t>& bands)
{
    std::vector<double> octaves, levels;
    for (const auto band : bands)
    {
        octaves.push_back(std::log2(thirdOctaves()[band].centreHz));
        levels.push_back(thirds[band]);
    }
    return trendLine(octaves, levels);
}

}
