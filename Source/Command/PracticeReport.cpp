#include "Command/PracticeReport.h"

#include "Core/Units.h"
#include "Files/AnalysisFile.h"
#include "Files/AtomicFile.h"
#include "Files/Chart.h"
#include "Files/NumberText.h"
#include "Files/ResponsePicture.h"

#include <algorithm>
#include <cmath>

namespace plumbline
{

namespace
{

/** Mean of the known levels from 300 Hz to 3 kHz, where most of the loudness is; common practice, no source. */
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
    const double apart = (travel(right) - travel(left)) *
                         speedOfSound(row.analysis.settings.microphone.temperatureC) * 1000.0;
    return line + padded(fixed(midLevelDb(right.response) - leftLevel, 2), 14) + padded(fixed(apart, 1), 14);
}

/** A file name from a stance's: letters and digits, others become a hyphen. */
std::string fileStem(const Stance& stance)
{
    std::string stem;
    for (const char c : stance.name())
    {
        const bool plain = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9');
        if (plain)
            stem += static_cast<char>(c >= 'A' && c <= 'Z' ? c + 32 : c);
        else if (!stem.empty() && stem.back() != '-')
            stem += '-';
    }
    return stem;
}

std::string allTogether(const std::string& room, const std::vector<PracticeRow>& rows)
{
    std::vector<std::string> monitors;
    std::vector<ChartCurve> curves;
    for (const auto& row : rows)
    {
        auto known = std::find(monitors.begin(), monitors.end(), row.stance.monitor);
        if (known == monitors.end())
            known = monitors.insert(monitors.end(), row.stance.monitor);
        const auto& response = row.analysis.left.response;
        ChartCurve curve;
        curve.name = row.stance.name();
        curve.frequencyHz = response.frequencyHz;
        curve.levelDb = response.levelDb;
        curve.known = response.known;
        const auto& colours = monitorColours();
        curve.colour = colours[static_cast<std::size_t>(known - monitors.begin()) % colours.size()];
        curve.dash = orientationDash(row.stance.orientation);
        curves.push_back(std::move(curve));
    }
    ChartFrame frame;
    frame.title = std::to_string(rows.size()) + " stances in " + room + ", left, at the seat";
    frame.caption = "Colour: the monitor. Unbroken: upright; long dashes: side, tweeters out; short: side, tweeters in. " +
                    (rows.empty() ? "" : "1/" + std::to_string(rows.front().analysis.settings.smoothing.perOctave) + " octave.");
    frame.unit = "dB re reference";
    fitLevelRange(frame, curves, 50.0);
    return chartSvg(frame, curves);
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
    return text + "Time and level from output to microphone; level from 300 Hz to 3 kHz; over the noise in dB, the median.";
}

std::set<std::string> practicePictureNames(const std::vector<Stance>& stances)
{
    std::set<std::string> names { "all-stances.svg" };
    for (const auto& stance : stances)
        names.insert({ fileStem(stance) + ".svg", fileStem(stance) + ".csv" });
    return names;
}

Outcome writePracticePictures(const std::filesystem::path& folder, const std::string& room, const std::vector<PracticeRow>& rows)
{
    if (auto written = writeFileWhole(folder / "all-stances.svg", allTogether(room, rows)); !written)
        return written;
    for (const auto& row : rows)
    {
        const auto stem = fileStem(row.stance);
        if (auto written = writeFileWhole(folder / (stem + ".svg"), responsePicture(row.analysis, row.stance.name())); !written)
            return written;
        if (auto written = writeFileWhole(folder / (stem + ".csv"), responseCsv(row.analysis)); !written)
            return written;
    }
    return Done {};
}

}
