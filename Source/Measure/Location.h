#pragma once

#include "Core/Result.h"
#include "Measure/Capture.h"

#include <optional>
#include <span>

namespace plumbline
{

/** Where the stimulus stands in a recording that began at any time.

    The recording is divided by one sweep; left and right sweep then stand out as two peaks at the known
    distance. Found only if both rise at least five times over the usual level of what is between, and each is
    gathered about its beginning as a room's response is.

    @return sample of the recording at which sample 0 of the stimulus stands (negative if the recording began
        within the lead-in); nothing if the stimulus is not in it */
std::optional<std::ptrdiff_t> findStimulus(std::span<const float> recording, const Stimulus& stimulus);

/** How a capture is laid out once its stimulus is found. */
struct Placement
{
    std::ptrdiff_t stimulusStart = 0;
    bool timeBaseKnown = true;      ///< false: a recording without reference; only left against right is true
    bool referenceLeftOnly = false; ///< the reference carries the left sweep alone
};

/** Places a capture: takes its start as it stands if known, finds it in the reference or else in the
    microphone. Problems: the stimulus is not in it; it begins after the left sweep began; it ends before the
    last sweep's tail. */
Result<Placement> place(const Capture& capture);

}
