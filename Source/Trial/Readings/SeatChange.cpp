#include "Trial/SeatChange.h"

#include "Trial/Bands.h"
#include "Trial/Reading.h"

namespace plumbline::readings
{

std::vector<Reading> seatChange(const ReadingContext&)
{
    auto reading = namedReading(
        "seat change", "dB",
        "Root mean square change of third-octave level from the seat to the positions that all stances "
        "were measured at; of the mean of the set-ups, less its noise",
        "common practice", { 100.0, 10000.0 });
    reading.scale = ReadingScale::folded;
    reading.ofSetUps = true;
    reading.step = 0.5;
    reading.of = [](const ReadingUnit& unit)
    {
        const auto bands = allBands(unit.board, 100.0, 10000.0);
        std::vector<double> change;
        for (const auto& position : positionsOfAll(unit.board))
        {
            const auto there = thirdsChange(unit.seat, unit.elsewhere, position, bands);
            if (there.empty())
                return std::vector<double>{};
            change.insert(change.end(), there.begin(), there.end());
        }
        return change;
    };
    return { reading };
}

}
