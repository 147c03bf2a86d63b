#include "Trial/Reading.h"

#include "Trial/Bands.h"

namespace plumbline
{

Reading namedReading(std::string name, std::string unit, std::string definition, std::string source,
                     Band band)
{
    Reading reading;
    reading.name = std::move(name);
    reading.unit = std::move(unit);
    reading.definition = std::move(definition);
    reading.source = std::move(source);
    reading.band = band;
    return reading;
}

std::vector<std::size_t> knownBands(const MatchedBoard& board, double lowNominalHz, double highNominalHz)
{
    std::vector<std::size_t> known;
    for (const auto band : bandsFromTo(lowNominalHz, highNominalHz))
        if (board.commonThirds()[band])
            known.push_back(band);
    return known;
}

std::vector<std::size_t> allBands(const MatchedBoard& board, double lowNominalHz, double highNominalHz)
{
    auto known = knownBands(board, lowNominalHz, highNominalHz);
    if (known.size() != bandsFromTo(lowNominalHz, highNominalHz).size())
        known.clear();
    return known;
}

}
