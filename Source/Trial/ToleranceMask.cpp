#include "Trial/ToleranceMask.h"

#include <cmath>

namespace plumbline
{

std::optional<ToleranceMask::Point> ToleranceMask::at(double frequencyHz) const
{
    constexpr double rounding = 1.01; // exact mid-bands lie up to 1 % beside their names
    if (points.empty() || frequencyHz * rounding < points.front().frequencyHz ||
        frequencyHz > points.back().frequencyHz * rounding)
        return std::nullopt;
    if (frequencyHz <= points.front().frequencyHz)
        return points.front();
    for (std::size_t i = 1; i < points.size(); ++i)
    {
        const auto &a = points[i - 1], &b = points[i];
        if (frequencyHz > b.frequencyHz)
            continue;
        const double share = std::log(frequencyHz / a.frequencyHz) / std::log(b.frequencyHz / a.frequencyHz);
        return Point{ frequencyHz, a.lowerDb + share * (b.lowerDb - a.lowerDb),
                      a.upperDb + share * (b.upperDb - a.upperDb) };
    }
    return points.back();
}

ToleranceMask plainMask()
{
    return {
        "plus or minus 3 dB, 50 Hz to 16 kHz",
        "from memory of recommendations for listening rooms; check it against your own copy of the standard",
        200.0,
        4000.0,
        { { 50.0, -3.0, 3.0 }, { 16000.0, -3.0, 3.0 } }
    };
}

}
