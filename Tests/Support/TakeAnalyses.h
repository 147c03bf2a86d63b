#pragma once

#include "Measure/TakeAnalysis.h"
#include "Support/Captures.h"

#include <catch2/catch.hpp>
#include <string>
#include <utility>
#include <vector>

namespace plumbline::test
{

/** A direct sound and echoes: up to 8 dB of ripple, different on the two sides. */
inline const Taps leftTaps{ { 300, 0.5 }, { 331, 0.12 }, { 390, -0.08 }, { 2300, 0.02 } };
inline const Taps rightTaps{ { 317, 0.4 }, { 340, -0.1 }, { 451, 0.07 } };

/** Smoothing over a part of an octave (0: none), and a window. */
inline AnalysisSettings looking(int perOctave, WindowChoice window)
{
    AnalysisSettings settings;
    settings.smoothing = { perOctave };
    settings.window = window;
    return settings;
}

inline const WindowChoice whole{ WindowChoice::Kind::full, 0.0 };

/** The sharpest way of looking: no smoothing, no gate. */
inline AnalysisSettings plain()
{
    return looking(0, whole);
}

inline TakeAnalysis analysed(const Capture& capture, const AnalysisSettings& settings)
{
    auto result = analyseTake(capture, settings);
    if (!result.ok())
        FAIL(result.problem().sentence());
    return std::move(result).value();
}

/** Codes of what was noted of a take, after their words were seen to be sentences. */
inline std::vector<std::string> codesOf(const TakeAnalysis& analysis)
{
    std::vector<std::string> codes;
    for (const auto& fault : analysis.faults)
    {
        CHECK_THAT(fault.words, Catch::EndsWith("."));
        codes.push_back(fault.code);
    }
    return codes;
}

inline Taps scaled(Taps taps, double gain)
{
    for (auto& tap : taps)
        tap.gain *= gain;
    return taps;
}

}
