#include "Trial/Bands.h"
#include "Trial/Reading.h"

namespace plumbline::readings
{

namespace
{
Reading common(const char* name, const char* unit, const char* definition, const Band& band)
{
    auto reading = namedReading(name, unit, definition, "common practice", band);
    reading.scale = ReadingScale::folded;
    return reading;
}

using CurveOfTake = std::vector<double> (*)(const MatchedTake&, const MatchedBoard&);

void read(Reading& reading, CurveOfTake ofTake)
{
    reading.of = [ofTake](const ReadingUnit& unit)
    {
        if (unit.stance.sideCount() != 2)
            return std::vector<double>{};
        return meanOverTakes(unit.seat, [&](const MatchedTake& take) { return ofTake(take, unit.board); });
    };
}

std::vector<double> levelApart(const MatchedTake& take, const MatchedBoard& board)
{
    const auto& band = board.matchBand();
    return { pinkMeanDb(take.sides[0], band.fromHz, band.toHz) -
             pinkMeanDb(take.sides[1], band.fromHz, band.toHz) };
}

std::vector<double> shapeApart(const MatchedTake& take, const MatchedBoard& board)
{
    std::vector<double> apart;
    double mean = 0.0;
    for (const auto band : allBands(board, 250.0, 8000.0))
    {
        apart.push_back(take.thirds[0][band] - take.thirds[1][band]);
        mean += apart.back();
    }
    for (double& value : apart)
        value -= mean / static_cast<double>(apart.size());
    return apart;
}

std::vector<double> arrivalApart(const MatchedTake& take, const MatchedBoard&)
{
    const auto &left = take.take->sides[0].travelSeconds, &right = take.take->sides[1].travelSeconds;
    return { left && right ? 1000.0 * (*left - *right) : unknownValue };
}
}

std::vector<Reading> pairMatch(const ReadingContext&)
{
    auto level = common("pair match, level", "dB",
                        "Difference of left and right in mean level over the band that levels are matched "
                        "over, without sign; of "
                        "the mean of the takes, less its noise",
                        usualMatchBand);
    level.step = 0.5;
    level.justNoticeable = { 0.5, "interaural level, Mills, JASA 32 (1960) 132; from memory" };
    read(level, levelApart);

    auto shape = common("pair match, shape", "dB",
                        "Root mean square difference of left and right in third-octave level, their mean "
                        "difference taken off; of "
                        "the mean of the takes, less its noise",
                        { 250.0, 8000.0 });
    shape.step = 0.5;
    read(shape, shapeApart);

    auto arrival = common("pair match, arrival", "ms",
                          "Difference of left and right in first arrival, without sign; of the mean of the "
                          "takes, less its noise",
                          {});
    arrival.step = 0.1;
    arrival.also = { "mm", 343.2 };
    arrival.justNoticeable = { 0.02, "interaural time, Klumpp and Eady, JASA 28 (1956) 859; from memory" };
    read(arrival, arrivalApart);
    return { level, shape, arrival };
}

}
