#include "Trial/Bands.h"
#include "Trial/Reading.h"

#include <algorithm>

namespace plumbline::readings
{

namespace
{
constexpr double highestHz = 300.0;
const double sixth = std::exp2(1.0 / 6.0); // half of a third of an octave

/** Level about a point of the grid, a third of an octave wide. */
double thirdAbout(const Curve& curve, std::size_t point)
{
    const double hz = curveGrid::frequencyHz(point);
    return pinkMeanDb(curve, hz / sixth, hz * sixth);
}

/** Where the level, coming from the lowest note known, first reaches `wanted`; unknown if it is there
    already. */
double corner(const Curve& curve, const std::vector<bool>& common, double wanted)
{
    double former = unknownValue;
    for (std::size_t point = 9; point + 9 < curveGrid::points; ++point)
    {
        const double hz = curveGrid::frequencyHz(point);
        if (hz > highestHz)
            break;
        const auto around = common.begin() + static_cast<std::ptrdiff_t>(point);
        if (!std::all_of(around - 9, around + 10, [](bool known) { return known; }))
        {
            former = unknownValue;
            continue;
        }
        const double level = thirdAbout(curve, point);
        if (level >= wanted)
        {
            if (std::isnan(former))
                return unknownValue;
            const double share = (wanted - former) / (level - former);
            return hz * std::exp2((share - 1.0) / curveGrid::perOctave);
        }
        former = level;
    }
    return unknownValue;
}

/** Mean of the sides' corners on log frequency. */
std::vector<double> cornerOf(const ReadingUnit& unit, double below)
{
    const auto& band = unit.board.matchBand();
    auto octave =
        meanOverSides(unit,
                      [&](const MatchedTake& take, std::size_t side)
                      {
                          const auto& curve = take.sides[side];
                          const double middle = pinkMeanDb(curve, band.fromHz, band.toHz);
                          return std::log2(corner(curve, unit.board.commonPoints(), middle - below));
                      });
    for (double& value : octave)
        value = std::exp2(value);
    return octave;
}
}

std::vector<Reading> reach(const ReadingContext&)
{
    std::vector<Reading> list;
    for (const int below : { 3, 6, 10 })
    {
        const auto decibels = std::to_string(below) + " dB";
        auto reading =
            namedReading("reach, -" + decibels, "Hz",
                         "Lowest frequency at which the level, a third of an octave wide, is " + decibels +
                             " below the mean over the band that levels are matched over; mean of the sides",
                         "common practice", { 20.0, highestHz });
        reading.scale = ReadingScale::ratio;
        reading.step = 1.0 / 3.0;
        reading.weight = 1.0 / 3.0;
        reading.of = [below](const ReadingUnit& unit) { return cornerOf(unit, below); };
        list.push_back(reading);
    }
    return list;
}

}
