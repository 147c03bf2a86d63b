#include "Trial/Bands.h"
#include "Trial/Reading.h"

namespace plumbline::readings
{

namespace
{
double shareInside(const std::vector<double>& thirds, const ToleranceMask& mask, const MatchedBoard& board)
{
    double mean = 0.0;
    const auto middle = allBands(board, mask.meanFromHz, mask.meanToHz);
    for (const auto band : middle)
        mean += thirds[band] / static_cast<double>(middle.size());
    double inside = 0.0, judged = 0.0;
    for (std::size_t band = 0; band < thirds.size(); ++band)
        if (const auto limits = mask.at(thirdOctaves()[band].nominalHz))
        {
            const double level = thirds[band] - mean;
            if (!board.commonThirds()[band] || middle.empty())
                return unknownValue;
            judged += 1.0;
            inside += level >= limits->lowerDb && level <= limits->upperDb ? 1.0 : 0.0;
        }
    return judged > 0.0 ? 100.0 * inside / judged : unknownValue;
}
}

std::vector<Reading> insideMask(const ReadingContext& context)
{
    const auto& mask = context.mask;
    const Band judged = mask.points.empty()
                            ? Band{}
                            : Band{ mask.points.front().frequencyHz, mask.points.back().frequencyHz };
    auto reading = namedReading(
        "inside the mask", "%",
        "Share of the third-octave bands whose level, from the mean of the middle bands, lies inside the "
        "tolerance mask (" +
            mask.name + "), mean of the sides",
        mask.source, judged);
    reading.better = Better::neither;
    reading.of = [mask](const ReadingUnit& unit)
    {
        return meanOverSides(unit, [&](const MatchedTake& take, std::size_t side)
                             { return shareInside(take.thirds[side], mask, unit.board); });
    };
    return { reading };
}

}
