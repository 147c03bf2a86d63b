#include "Trial/Bands.h"
#include "Trial/Reading.h"
#include "Trial/TrendLine.h"

namespace plumbline::readings
{

std::vector<Reading> tilt(const ReadingContext&)
{
    auto reading = namedReading(
        "tilt", "dB/octave",
        "Slope of the straight line over log frequency that fits the third-octave levels best, mean of "
        "the sides; less than 0 falls towards the treble",
        "common practice", { 100.0, 10000.0 });
    reading.better = Better::neither;
    reading.of = [](const ReadingUnit& unit)
    {
        const auto bands = allBands(unit.board, 100.0, 10000.0);
        return meanOverSides(unit, [&](const MatchedTake& take, std::size_t side)
                             { return trendOf(take.thirds[side], bands).slopePerOctave; });
    };
    return { reading };
}

}
