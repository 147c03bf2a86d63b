#include "Trial/Bands.h"
#include "Trial/Reading.h"
#include "Trial/TrendLine.h"

namespace plumbline::readings
{

std::vector<Reading> evenness(const ReadingContext&)
{
    auto reading = namedReading(
        "evenness", "dB",
        "How far the third-octave levels stray (root mean square) from the straight line over log "
        "frequency that fits them best, mean of the sides",
        "common practice", { 100.0, 10000.0 });
    reading.step = 0.5;
    reading.of = [](const ReadingUnit& unit)
    {
        const auto bands = allBands(unit.board, 100.0, 10000.0);
        return meanOverSides(unit, [&](const MatchedTake& take, std::size_t side)
                             { return trendOf(take.thirds[side], bands).strayDb; });
    };
    return { reading };
}

}
