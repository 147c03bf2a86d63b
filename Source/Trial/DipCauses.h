#pragma once

#include "Trial/Geometry.h"
#include "Trial/StanceData.h"

#include <optional>
#include <string>
#include <vector>

namespace plumbline
{

/** Minima of a difference of two stances that are at least so deep, and stand out of what is half an
    octave either side by half of it; the deepest first. */
std::vector<Dip> dipsIn(const Curve& differenceDb, double lowHz, double highHz, double leastDepthDb);

/** What is known of the two drivers' geometry at a position. */
struct DriverFacts
{
    DriverPaths paths;
    DriverPaths upright; ///< of the same monitor upright, which the difference is against
    std::optional<double> crossoverHz;
    double speedMps = 343.2;
    double wooferRadiusM = 0.0;
    bool directSound = false; ///< the curves are of the direct sound: without it nothing is claimed in full
};

/** The dip that the drivers should make; nothing where the crossover is not known. */
std::optional<Dip> dipOf(const DriverFacts& drivers);

enum class Fit
{
    explains,    ///< frequency within 3 %, depth within 3 dB, on the direct sound, with the crossover known
    explainsPart ///< near enough in frequency to have a share in it
};

struct DipCause
{
    Dip measured;
    Dip expected;
    std::string cause; ///< "the two drivers", "the floor", "the desk"
    Fit fit = Fit::explainsPart;
};

/** Lays the drivers' dip and those of bounces beside the measured ones: each measured dip gets the cause
    nearest in frequency, if any comes within 10 %. With the crossover unknown nothing is claimed of the
    drivers. */
std::vector<DipCause> causesOf(const std::vector<Dip>& measured, const DriverFacts& drivers,
                               const std::vector<std::pair<std::string, Bounce>>& bounces);

/** The geometry in sentences: path difference, c / (2 difference), and which dips it explains. */
std::vector<std::string> geometryWords(const std::vector<DipCause>& causes, const DriverFacts& drivers);

}
