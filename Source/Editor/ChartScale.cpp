#include "Editor/ChartScale.h"

#include <algorithm>
#include <cmath>
#include <cstdio>

namespace plumbline
{

double ChartScale::x(double hz) const noexcept
{
    return plot.left + plot.width * std::log10(hz / lowHz) / std::log10(highHz / lowHz);
}

double ChartScale::frequency(double x) const noexcept
{
    return lowHz * std::pow(highHz / lowHz, (x - plot.left) / plot.width);
}

double ChartScale::pxPerDb() const noexcept
{
    const double decade = plot.width / std::log10(highHz / lowHz);
    return decade / (chosen == ChartShape::standard ? 50.0 : 25.0);
}

double topOverLevel(double highestDb) noexcept
{
    return 5.0 * std::ceil((highestDb + 3.0) / 5.0);
}

std::vector<LevelLine> levelLines(const ChartScale& scale)
{
    const double step = scale.shape() == ChartShape::standard ? 5.0 : 2.5;
    const auto first = static_cast<long>(std::ceil(scale.bottom() / step - 1e-9));
    const auto last = static_cast<long>(std::floor(scale.top() / step + 1e-9));
    std::vector<LevelLine> lines;
    for (long k = first; k <= last; ++k)
        lines.push_back({ step * static_cast<double>(k), k % 2 == 0 });
    return lines;
}

std::string octaveFigure(double hz)
{
    char words[16];
    const bool kilo = hz >= 1000.0;
    std::snprintf(words, sizeof words, "%g", kilo ? hz / 1000.0 : hz);
    std::string figure(words);
    std::replace(figure.begin(), figure.end(), ',', '.'); // where the computer's language writes a comma
    return kilo ? figure + "k" : figure;
}

double steppedFrequency(double hz, int perOctave, bool up) noexcept
{
    // An octave of base ten is 10^0.3, so 1/12 octave is 1/40 decade.
    const double perDecade = static_cast<double>(perOctave) / 0.3;
    const double place = perDecade * std::log10(hz / 1000.0);
    const double next = up ? std::floor(place + 1e-6) + 1.0 : std::ceil(place - 1e-6) - 1.0;
    return std::clamp(1000.0 * std::pow(10.0, next / perDecade), ChartScale::lowHz, ChartScale::highHz);
}

}
