#pragma once

#include "Files/Json.h"
#include "Measure/Fault.h"

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

namespace plumbline
{

inline constexpr int summarySchemaVersion = 1;

/** One side of a take in short. Curves run in step; NaN where a value is not known; empty where there is none. */
struct SideSummary
{
    std::optional<double> travelTimeSeconds;
    std::optional<int> polarity;
    std::vector<float> levelDb; ///< to 0.0001 dB
    std::vector<float> noiseDb; ///< what the noise alone would show
    std::vector<float> sdDb;    ///< what the noise makes of the level, 1 s.d.
};

/** What comparing needs of a take, read in a fraction of the time that its analysis.json takes. */
struct TakeSummary
{
    std::string takeId;
    double sampleRateHz = 0.0;
    double temperatureC = 20.0;
    std::string calibration;    ///< its name; empty: none
    std::string smoothing;      ///< as analysis.json words it
    int smoothingPerOctave = 0; ///< 0: none
    bool levelIsSpl = false;
    std::vector<Fault> faults;
    int firstStep = 0; ///< curves lie at 1000 2^(k/48) Hz, k = firstStep, firstStep + 1, ...
    SideSummary left;
    std::optional<SideSummary> right;

    double frequencyHz(std::size_t index) const;
};

/** [any] From an analysis as JSON. Frequencies off the grid are left out. Problems: damaged. */
Result<TakeSummary> summaryOf(const Json& analysis, const std::string& where);

/** A summary as text; `source` is the analysis.json of which it is one. */
std::string summaryText(const TakeSummary& summary, const std::filesystem::path& source);

/** [any but audio] The summary of a take's folder: from `summary.json` if that is of the analysis.json beside it, by
    size and time; otherwise from analysis.json, and `summary.json` is made again if `mayWrite`.
    Problems: the analysis is missing or damaged. */
Result<TakeSummary> readSummary(const std::filesystem::path& takeFolder, bool mayWrite);

}
