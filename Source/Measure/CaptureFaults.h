#pragma once

#include "Core/Problem.h"
#include "Measure/Capture.h"
#include "Measure/Fault.h"

#include <optional>
#include <span>
#include <vector>

namespace plumbline
{

/** Reasons for which nothing can be said of a capture: empty or silent microphone, values that are not finite, a
    reference of another length or silent. Checked before anything else. */
std::optional<Problem> uselessness(const Capture& capture);

/** True if at least three samples in a row stand at full scale. */
bool isClipped(std::span<const float> samples) noexcept;

/** Reasons to doubt a capture that can still be analysed, apart from its place in time. */
std::vector<Fault> doubts(const Capture& capture);

}
