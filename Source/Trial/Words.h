#pragma once

#include "Trial/Trial.h"

#include <string>

namespace plumbline
{

/** "0.9-2.1 kHz", "63-125 Hz", "800 Hz-1.2 kHz": a range of frequency with a dash. */
std::string rangeName(double fromHz, double toHz);

/** A number with so many decimals, a point as decimal mark and a true minus sign. */
std::string figure(double value, int decimals);

/** "3.2 +- 0.6 dB" with the sign for plus or minus; decimals follow the half-width (two figures of it
    under 1). */
std::string withPlusMinus(double value, double plusMinus, const std::string& unit);

/** How a stance is told apart from another in a sentence: "on its side" where the pair is the same and it
    lies down, "upright" where it stands, its whole name where the pairs differ. */
std::string saidAgainst(const Stance& stance, const Stance& other);

}
