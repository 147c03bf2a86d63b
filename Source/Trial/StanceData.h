#pragma once

#include "Measure/TakeAnalysis.h"
#include "Trial/Trial.h"

#include <cstddef>
#include <limits>
#include <optional>
#include <string>
#include <vector>

namespace plumbline
{

/** The grid on which all takes of a board are compared: 1000 2^(k/48) Hz for k = -288 .. 288, 15.6 Hz to
    64 kHz. */
namespace curveGrid
{
inline constexpr int perOctave = 48;
inline constexpr int lowestStep = -288;
inline constexpr std::size_t points = 577;

double frequencyHz(std::size_t index);
/** The point at a frequency of the grid; nothing if the frequency is none of it (0.01 % allowed). */
std::optional<std::size_t> indexOf(double frequencyHz);
}

/** In all curves and figures of a comparison this stands for "not known". */
inline constexpr double unknownValue = std::numeric_limits<double>::quiet_NaN();

/** Values over the points of curveGrid, NaN where not known. */
using Curve = std::vector<double>;

/** What comparing needs of one side of a take. */
struct SideData
{
    Curve levelDb; ///< smoothed as the take was analysed
    Curve noiseDb; ///< what the noise alone would show
    Curve sdDb;    ///< what the noise makes of one take's level, 1 s.d.
    std::optional<double> travelSeconds;
    std::optional<int> polarity; ///< +1 or -1
};

/** Under which conditions a take was made: where they differ within a board, it is said. */
struct TakeConditions
{
    double sampleRateHz = 0.0;
    double temperatureC = 20.0;
    std::string calibration;     ///< its name; empty: none
    int smoothingPerOctave = 12; ///< 0: none

    bool operator==(const TakeConditions&) const = default;
};

/** Name of the position from which all others are measured, and at which stances are compared. */
inline const std::string seatName = "seat";

/** One take as comparing sees it. */
struct TakeData
{
    std::string id;
    int setUp = 1; ///< number of the set-up among those of its stance
    std::string position = seatName;
    std::vector<SideData> sides; ///< left, right; a single monitor has one
    TakeConditions conditions;
};

/** A stance with all takes that count. */
struct StanceData
{
    Stance stance;
    Monitor monitor;
    std::vector<TakeData> takes;

    std::string name() const { return stance.name(); }
};

/** [any] What comparing needs, from an analysis. Points of it that are not on the grid are left out. */
TakeData takeDataOf(const TakeAnalysis& analysis);

/** [any] A curve that is known nowhere. */
Curve unknownCurve();

/** [any] Places a response's values on the grid. @param values in step with the frequencies; empty: known
    nowhere
    @param known null: all that is a number */
Curve onGrid(const std::vector<double>& frequencyHz, const std::vector<double>& values,
             const std::vector<bool>* known);

}
