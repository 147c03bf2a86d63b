#include "Measure/Calibration.h"

#include <algorithm>
#include <charconv>
#include <cmath>
#include <optional>

namespace plumbline
{

namespace
{

Problem problemAt(const std::string& name, const std::string& what)
{
    return { "calibration-refused", what, name,
             "A calibration file has lines of frequency in Hz, level in dB and, if known, phase in degrees" };
}

bool isBlank(char c)
{
    return c == ' ' || c == '\t' || c == '\r';
}

void skipBlanks(std::string_view& line)
{
    while (!line.empty() && isBlank(line.front()))
        line.remove_prefix(1);
}

/** The numbers of a line, parted by blanks or one comma each; nothing if a word in it is not a number, or one
    is missing. */
std::optional<std::vector<double>> numbersIn(std::string_view line)
{
    std::vector<double> numbers;
    skipBlanks(line);
    while (!line.empty())
    {
        if (line.front() == '+' && line.size() > 1 && line[1] != '-')
            line.remove_prefix(1);
        double value = 0.0;
        const auto [end, error] = std::from_chars(line.data(), line.data() + line.size(), value);
        if (error != std::errc() || !std::isfinite(value))
            return std::nullopt;
        numbers.push_back(value);
        line.remove_prefix(static_cast<std::size_t>(end - line.data()));
        const bool parted = line.empty() || isBlank(line.front()) || line.front() == ',';
        skipBlanks(line);
        const bool comma = !line.empty() && line.front() == ',';
        line.remove_prefix(comma ? 1 : 0);
        skipBlanks(line);
        if (!parted || (comma && line.empty()))
            return std::nullopt;
    }
    return numbers;
}

/** A line that holds no point: empty or a remark. */
bool isRemark(std::string_view line)
{
    const auto first = line.find_first_not_of(" \t\r");
    return first == std::string_view::npos || line[first] == '#' || line[first] == '*';
}

}

Calibration::Calibration(std::string name, std::vector<Point> points, bool hasPhase)
    : title(std::move(name)), table(std::move(points)), phaseGiven(hasPhase)
{
}

Result<Calibration> Calibration::fromPoints(std::string name, std::vector<Point> points, bool hasPhase)
{
    if (points.size() < 2)
        return problemAt(name, "The calibration has fewer than two points");
    double before = 0.0;
    for (const auto& point : points)
    {
        const bool sound = std::isfinite(point.frequencyHz) && std::isfinite(point.phaseDeg) &&
                           std::abs(point.levelDb) <= 100.0;
        if (!sound)
            return problemAt(name, "The calibration has a value that is not a level, a phase or a frequency");
        if (point.frequencyHz <= before)
            return problemAt(name, "The calibration's frequencies do not ascend from above 0 Hz");
        before = point.frequencyHz;
    }
    return Calibration(std::move(name), std::move(points), hasPhase);
}

double Calibration::interpolated(double frequencyHz, double Point::*value) const noexcept
{
    const auto above = std::upper_bound(table.begin(), table.end(), frequencyHz,
                                        [](double f, const Point& p) { return f < p.frequencyHz; });
    if (above == table.begin())
        return table.front().*value;
    if (above == table.end())
        return table.back().*value;
    const auto& low = *(above - 1);
    const double from = std::log(low.frequencyHz);
    const double share = (std::log(frequencyHz) - from) / (std::log(above->frequencyHz) - from);
    return std::lerp(low.*value, (*above).*value, share);
}

double Calibration::levelDb(double frequencyHz) const noexcept
{
    return interpolated(frequencyHz, &Point::levelDb);
}

double Calibration::phaseDeg(double frequencyHz) const noexcept
{
    return phaseGiven ? interpolated(frequencyHz, &Point::phaseDeg) : 0.0;
}

Result<Calibration> parseCalibration(std::string name, std::string_view text)
{
    std::vector<Calibration::Point> points;
    std::size_t columns = 0, lineNumber = 0;
    while (!text.empty())
    {
        const auto length = std::min(text.find('\n'), text.size());
        const auto line = text.substr(0, length);
        text.remove_prefix(std::min(length + 1, text.size()));
        ++lineNumber;
        if (isRemark(line))
            continue;
        const auto numbers = numbersIn(line);
        if (!numbers || numbers->size() < 2 || numbers->size() > 3)
            return problemAt(name, "Line " + std::to_string(lineNumber) + " is not two or three numbers");
        if (columns != 0 && numbers->size() != columns)
            return problemAt(name, "Line " + std::to_string(lineNumber) +
                                       " has another number of columns than those before");
        columns = numbers->size();
        points.push_back({ (*numbers)[0], (*numbers)[1], columns == 3 ? (*numbers)[2] : 0.0 });
    }
    return Calibration::fromPoints(std::move(name), std::move(points), columns == 3);
}

}
