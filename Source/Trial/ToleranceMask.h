#pragma once

#include <optional>
#include <string>
#include <vector>

namespace plumbline
{

/** How far third-octave levels may lie from their own mean: data that the user can edit, never a verdict. */
struct ToleranceMask
{
    struct Point
    {
        double frequencyHz = 0.0;
        double lowerDb = 0.0;
        double upperDb = 0.0;

        bool operator==(const Point&) const = default;
    };

    std::string name;
    std::string source;        ///< where it comes from, and how sure that is
    double meanFromHz = 200.0; ///< levels are counted from their mean over these bands
    double meanToHz = 4000.0;
    std::vector<Point> points; ///< ascending; between them limits run linearly over log frequency

    /** Limits at a frequency; nothing outside the points. */
    std::optional<Point> at(double frequencyHz) const;

    bool operator==(const ToleranceMask&) const = default;
};

/** -3 to +3 dB from 50 Hz to 16 kHz about the mean of 200 Hz to 4 kHz. */
ToleranceMask plainMask();

}
