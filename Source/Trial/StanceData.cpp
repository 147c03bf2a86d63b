#include "Trial/StanceData.h"

#include <algorithm>
#include <cmath>

namespace plumbline
{

double curveGrid::frequencyHz(std::size_t index)
{
    return 1000.0 * std::exp2((static_cast<int>(index) + lowestStep) / static_cast<double>(perOctave));
}

std::optional<std::size_t> curveGrid::indexOf(double hz)
{
    if (!(hz > 0.0))
        return std::nullopt;
    const double step = perOctave * std::log2(hz / 1000.0) - lowestStep;
    const double nearest = std::round(step);
    if (nearest < 0.0 || nearest >= static_cast<double>(points) || std::abs(step - nearest) > 0.007)
        return std::nullopt;
    return static_cast<std::size_t>(nearest);
}

Curve unknownCurve()
{
    return Curve(curveGrid::points, unknownValue);
}

Curve onGrid(const std::vector<double>& frequencyHz, const std::vector<double>& values,
             const std::vector<bool>* known)
{
    auto curve = unknownCurve();
    const std::size_t count = std::min(frequencyHz.size(), values.size());
    for (std::size_t i = 0; i < count; ++i)
        if (known == nullptr || (i < known->size() && (*known)[i]))
            if (const auto at = curveGrid::indexOf(frequencyHz[i]); at && std::isfinite(values[i]))
                curve[*at] = values[i];
    return curve;
}

namespace
{
SideData sideDataOf(const SideAnalysis& side)
{
    const auto& response = side.response;
    return { onGrid(response.frequencyHz, response.levelDb, &response.known),
             onGrid(response.frequencyHz, response.noiseDb, nullptr),
             onGrid(response.frequencyHz, response.sdDb, &response.known), side.travelTimeSeconds,
             side.polarity };
}
}

TakeData takeDataOf(const TakeAnalysis& analysis)
{
    TakeData take;
    take.sides.push_back(sideDataOf(analysis.left));
    if (analysis.right)
        take.sides.push_back(sideDataOf(*analysis.right));
    const auto& settings = analysis.settings;
    take.conditions.sampleRateHz = analysis.sampleRateHz;
    take.conditions.temperatureC = settings.microphone.temperatureC;
    if (settings.microphone.calibration)
        take.conditions.calibration = settings.microphone.calibration->name();
    take.conditions.smoothingPerOctave = settings.smoothing.perOctave;
    return take;
}

}
