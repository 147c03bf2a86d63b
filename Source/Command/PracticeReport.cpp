#include "Command/PracticeReport.h"

#include "Core/Units.h"
#include "Files/AnalysisFile.h"
#include "Files/AtomicFile.h"
#include "Files/Chart.h"
#include "Files/NumberText.h"
#include "Files/ResponsePicture.h"

#include <algorithm>
#include <cmath>
#include <map>

namespace plumbline
{

namespace
{

/** Mean of the known levels from 300 Hz to 3 kHz, where most of the loudness is; common practice, no source.
    */
double midLevelDb(const FrequencyResponse& response)
{
    double sum = 0.0;
    int count = 0;
    for (std::size_t i = 0; i < response.frequencyHz.size(); ++i)
        if (response.known[i] && response.frequencyHz[i] >= 300.0 && response.frequencyHz[i] <= 3000.0)
            sum += response.levelDb[i], ++count;
    return count > 0 ? sum / count : std::nan("");
}

/** How far the level stands over the noise, the median over the band; nothing where there is no noise. */
double overNoiseDb(const FrequencyResponse& response)
{
    std::vector<double> over;
    for (std::size_t i = 0; i < response.noiseDb.size(); ++i)
        over.push_back(response.levelDb[i] - response.noiseDb[i]);
    if (over.empty())
        return std::nan("");
    std::nth_element(over.begin(), over.begin() + static_cast<std::ptrdiff_t>(over.size() / 2), over.end());
    return over[over.size() / 2];
}

std::string fixed(double value, int decimals)
{
    return std::isfinite(value) ? fixedText(value, decimals) : "none";
}

std::string padded(const std::string& text, std::size_t width)
{
    return text.size() < width ? std::string(width - text.size(), ' ') + text : text;
}

double travel(const SideAnalysis& side)
{
    return side.travelTimeSeconds.value_or(std::nan(""));
}

std::string tableLine(const PracticeRow& row)
{
    const auto& left = row.analysis.left;
    const double leftLevel = midLevelDb(left.response);
    std::string name = row.stance.name();
    name.resize(std::max<std::size_t>(name.size(), 30), ' ');
    std::string line = name + padded(fixed(1000.0 * travel(left), 3), 10) + padded(fixed(leftLevel, 2), 10) +
                       padded(fixed(overNoiseDb(left.response), 1), 12);
    if (!row.analysis.right)
        return line;
    const auto& right = *row.analysis.right;
    const double apart =
        (travel(right) - travel(left)) * speedOfSound(row.analysis.settings.microphone.temperatureC) * 1000.0;
    return line + padded(fixed(midLevelDb(right.response) - leftLevel, 2), 14) + padded(fixed(apart, 1), 14);
}

/** Place of each monitor in the order of its first row. */
std::size_t monitorOrdinal(const std::vector<PracticeRow>& rows, const std::string& monitor)
{
    std::vector<std::string> seen;
    for (const auto& row : rows)
        if (std::find(seen.begin(), seen.end(), row.stance.monitor) == seen.end())
            seen.push_back(row.stance.monitor);
    return static_cast<std::size_t>(std::find(seen.begin(), seen.end(), monitor) - seen.begin());
}

ChartCurve stanceCurve(const PracticeRow& row, std::size_t monitor, std::string name)
{
    const auto& response = row.analysis.left.response;
    ChartCurve curve;
    curve.name = std::move(name);
    curve.frequencyHz = response.frequencyHz;
    curve.levelDb = response.levelDb;
    curve.known = response.known;
    curve.colour = monitorColours()[monitor % monitorColours().size()];
    curve.dash = orientationDash(row.stance.orientation);
    return curve;
}

std::string stancesPicture(const std::string& title, const std::string& words,
                           const std::vector<ChartCurve>& curves)
{
    ChartFrame frame;
    frame.title = title;
    frame.caption = words + " Unbroken: upright; long dashes: side, tweeters out; short: side, tweeters in.";
    frame.unit = "dB re reference";
    fitLevelRange(frame, curves, 50.0);
    return chartSvg(frame, curves);
}

std::string allTogether(const std::string& room, const std::vector<PracticeRow>& rows)
{
    std::vector<ChartCurve> curves;
    for (const auto& row : rows)
        curves.push_back(stanceCurve(row, monitorOrdinal(rows, row.stance.monitor), row.stance.name()));
    return stancesPicture(std::to_string(rows.size()) + " stances in " + room + ", left, at the seat",
                          "Colour: the monitor.", curves);
}

/** One monitor in all its orientations. */
std::string oneMonitor(const std::string& room, const std::vector<PracticeRow>& rows,
                       const std::string& monitor)
{
    std::vector<ChartCurve> curves;
    for (const auto& row : rows)
        if (row.stance.monitor == monitor)
            curves.push_back(stanceCurve(row, monitorOrdinal(rows, monitor), row.stance.orientation));
    const auto& shown = rows.front().analysis.settings.smoothing;
    return stancesPicture(monitor + " in " + room + ", left, at the seat",
                          "1/" + std::to_string(shown.perOctave) + " octave.", curves);
}

/** A file name: letters and digits, anything else becomes a hyphen. */
std::string fileStem(const std::string& name)
{
    std::string stem;
    for (const char c : name)
    {
        const bool upper = c >= 'A' && c <= 'Z';
        if (upper || (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9'))
            stem += static_cast<char>(upper ? c + 32 : c);
        else if (!stem.empty() && stem.back() != '-')
            stem += '-';
    }
    return stem;
}

}

std::string practiceTable(const std::vector<PracticeRow>& rows)
{
    std::string head = "stance";
    head.resize(30, ' ');
    std::string text = head + padded("left ms", 10) + padded("level dB", 10) + padded("over noise", 12) +
                       padded("R less L dB", 14) + padded("R less L mm", 14) + '\n';
    for (const auto& row : rows)
        text += tableLine(row) + '\n';
    return text + "Time and level from output to microphone; level from 300 Hz to 3 kHz; over the noise in "
                  "dB, the median.";
}

Outcome writePracticePictures(const std::filesystem::path& folder, const std::string& room,
                              const std::vector<PracticeRow>& rows)
{
    std::map<std::string, std::string> files{ { "all-stances.svg", allTogether(room, rows) } };
    for (const auto& row : rows)
    {
        files[fileStem(row.stance.monitor) + ".svg"] = oneMonitor(room, rows, row.stance.monitor);
        files[fileStem(row.stance.name()) + ".svg"] = responsePicture(row.analysis, row.stance.name());
        files[fileStem(row.stance.name()) + ".csv"] = responseCsv(row.analysis);
    }
    for (const auto& [name, bytes] : files)
        if (auto written = writeFileWhole(folder / name, bytes); !written)
            return written;
    return Done{};
}

}
