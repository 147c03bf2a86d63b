#pragma once

#include "Trial/StanceData.h"

#include <string>
#include <vector>

namespace plumbline
{

/** A third-octave band: exact mid-band frequency 1000 10^(n/10), edges 10^(-+1/20) about it (IEC
    61260-1:2014 base 10; formula computed, standard's text from memory), named by its preferred number
    (ISO 266). */
struct ThirdOctave
{
    double nominalHz = 0.0;
    double centreHz = 0.0;
    double lowHz = 0.0;
    double highHz = 0.0;
};

/** Those from 20 Hz to 20 kHz, ascending. */
const std::vector<ThirdOctave>& thirdOctaves();

/** Mean power of a curve over lowHz..highHz in dB, each octave weighing the same, as pink noise would show
    it. Points of the grid stand for a 48th of an octave about them; those cut by an edge count in part.
    Unknown where any point that counts is. */
double pinkMeanDb(const Curve& levelDb, double lowHz, double highHz);

/** Levels in all thirdOctaves(), of a curve. Unknown where any point of a band is. */
std::vector<double> thirdOctaveLevels(const Curve& levelDb);

/** Places among thirdOctaves() of the bands named lowNominalHz to highNominalHz. */
std::vector<std::size_t> bandsFromTo(double lowNominalHz, double highNominalHz);

/** "100 Hz", "2.5 kHz": a frequency to two or three figures, as preferred numbers are written. */
std::string frequencyName(double hz);

}
