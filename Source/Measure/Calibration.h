#pragma once

#include "Core/Result.h"

#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace plumbline
{

/** The response of a measuring microphone by itself, to be taken off what it heard. Immutable and always
    valid. */
class Calibration
{
public:
    struct Point
    {
        double frequencyHz; ///< above 0, ascending
        double levelDb;
        double phaseDeg; ///< 0 where the file gives none

        bool operator==(const Point&) const = default;
    };

    /** Problems: fewer than two points, frequencies not ascending or not above 0, a value that is not finite
        or is beyond +-100 dB. */
    static Result<Calibration> fromPoints(std::string name, std::vector<Point> points, bool hasPhase);

    /** Level in dB, linear over log frequency between points and held beyond the first and the last. */
    double levelDb(double frequencyHz) const noexcept;

    /** Phase in degrees, by the same rule; 0 everywhere if the file gives none. */
    double phaseDeg(double frequencyHz) const noexcept;

    const std::string& name() const noexcept { return title; }

    std::span<const Point> points() const noexcept { return table; }

    bool hasPhase() const noexcept { return phaseGiven; }

    double lowestHz() const noexcept { return table.front().frequencyHz; }

    double highestHz() const noexcept { return table.back().frequencyHz; }

    bool operator==(const Calibration&) const = default;

private:
    Calibration(std::string name, std::vector<Point> points, bool hasPhase);
    double interpolated(double frequencyHz, double Point::*value) const noexcept;

    std::string title;
    std::vector<Point> table;
    bool phaseGiven;
};

/** Reads a calibration from text, strictly: lines of a frequency in Hz, a level in dB and, in every line or
    in none, a phase in degrees, parted by blanks, tabs or a comma; a decimal point; lines that begin with #
    or * are remarks. Problems name the line. */
Result<Calibration> parseCalibration(std::string name, std::string_view text);

}
