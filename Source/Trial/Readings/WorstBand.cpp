#include "Trial/Bands.h"
#include "Trial/Reading.h"
#include "Trial/TrendLine.h"

namespace plumbline::readings
{

namespace
{
/** Third-octave levels of both sides, each about its own trend line. */
std::vector<double> strayOf(const MatchedTake& take, const std::vector<std::size_t>& bands)
{
    std::vector<double> stray;
    for (const auto& thirds : take.thirds)
    {
        const auto line = trendOf(thirds, bands);
        for (const auto band : bands)
            stray.push_back(thirds[band] - line.at(std::log2(thirdOctaves()[band].centreHz)));
    }
    return stray;
}
}

std::vector<Reading> worstBand(const ReadingContext&)
{
    auto reading = namedReading(
        "worst band", "dB",
        "Largest distance of a third-octave level, on either side, from the straight line over log "
        "frequency that fits that side's levels best; of the mean curve, less its noise",
        "common practice", { 100.0, 10000.0 });
    reading.scale = ReadingScale::folded;
    reading.fold = Fold::largest;
    reading.step = 2.0;
    reading.of = [](const ReadingUnit& unit)
    {
        const auto bands = allBands(unit.board, 100.0, 10000.0);
        return meanOverTakes(unit.seat, [&](const MatchedTake& take) { return strayOf(take, bands); });
    };
    return { reading };
}

}
