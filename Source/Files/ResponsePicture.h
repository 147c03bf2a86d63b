#pragma once

#include "Measure/TakeAnalysis.h"

#include <string>

namespace plumbline
{

/** Left and right level of one take with the noise under them, as SVG. */
std::string responsePicture(const TakeAnalysis& analysis, const std::string& title);

/** How the curve was made, as a sentence: "1/12 octave, window to 245 ms after the first arrival." */
std::string howMade(const TakeAnalysis& analysis);

}
