#pragma once

#include "Core/Problem.h"
#include "Measure/Capture.h"
#include "Measure/Fault.h"

#include <optional>
#include <span>
#include <vector>

namespace plumbline
{

/** The largest |sample| of each signal, read through once for all the checks below; infinite or not a number
    if any sample is. */
struct CaptureExtent
{
    explicit CaptureExtent(const Capture& capture) noexcept;

    float microphone, reference;
};

/** Reasons for which nothing can be said of a capture: empty or silent microphone, values that are not
    finite, a reference of another length or silent. Checked before anything else. */
std::optional<Problem> uselessness(const Capture& capture, const CaptureExtent& extent);

/** True if at least three samples in a row stand at full scale. */
bool isClipped(std::span<const float> samples) noexcept;

/** Reasons to doubt a capture that can still be analysed, apart from its place in time. */
std::vector<Fault> doubts(const Capture& capture, const CaptureExtent& extent);

inline std::optional<Problem> uselessness(const Capture& capture)
{
    return uselessness(capture, CaptureExtent(capture));
}

inline std::vector<Fault> doubts(const Capture& capture)
{
    return doubts(capture, CaptureExtent(capture));
}

}
