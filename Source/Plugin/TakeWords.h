#pragma once

#include "Files/StoredAnalysis.h"
#include "Measure/TakeAnalysis.h"
#include "Plugin/EditorInterface.h"

#include <string>

namespace plumbline
{

/** What a take shows, from its analysis or from the disk. Take and set-up are for the caller to name. */
TakeCurves curvesOf(const TakeAnalysis& analysis);
TakeCurves curvesOf(StoredAnalysis stored);

/** The words of all doubts, one after another; empty if there are none. */
std::string doubtsOf(const std::vector<Fault>& faults);

/** How a take of this stimulus lies in time, with what is recorded after it. Nothing known: zeros. */
TakeTimes timesOf(const StimulusSpec& spec);

/** "1/12 octave", or "no smoothing". */
std::string smoothingInWords(OctaveFraction smoothing);

}
