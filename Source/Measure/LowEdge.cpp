#include "Measure/LowEdge.h"

#include "Dsp/Windows.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace plumbline
{

namespace
{

/** Least-squares line through points given one by one. */
class Line
{
public:
    void add(double x, double y) noexcept
    {
        count += 1.0;
        sumX += x;
        sumY += y;
        sumXX += x * x;
        sumXY += x * y;
    }

    double slope() const noexcept
    {
        const double spread = count * sumXX - sumX * sumX;
        return spread > 0.0 ? (count * sumXY - sumX * sumY) / spread : 0.0;
    }

    /** Value at x of the line with another slope through the middle of the points. */
    double at(double x, double withSlope) const noexcept
    {
        return (sumY + withSlope * (count * x - sumX)) / count;
    }

private:
    double count = 0.0, sumX = 0.0, sumY = 0.0, sumXX = 0.0, sumXY = 0.0;
};

}

void continueBelow(SpectrumBuffer& transfer, const ExcitedRange& range, double sampleRateHz)
{
    constexpr double fittedOver = 1.32; // 0.4 octave, to just under the band
    constexpr double steepest = 8.0;
    const double binHz = sampleRateHz / static_cast<double>(transfer.length());
    const auto first = static_cast<std::size_t>(range.lowHz / binHz) + 1;
    const auto last =
        std::min(static_cast<std::size_t>(range.lowHz * fittedOver / binHz) + 2, transfer.binCount());
    Line level, phase;
    double radians = 0.0;
    for (auto k = first; k < last; ++k)
    {
        const auto h = transfer.bins()[k];
        if (h == 0.0)
            return; // nothing to continue
        const double hz = static_cast<double>(k) * binHz, turned = std::arg(h);
        radians = k == first ? turned : radians + std::remainder(turned - radians, 2.0 * std::numbers::pi);
        level.add(std::log(hz), std::log(std::abs(h)));
        phase.add(hz, radians);
    }
    const double power = std::clamp(level.slope(), 0.0, steepest), phaseSlope = phase.slope();
    auto continued = [&](std::size_t k)
    {
        const double hz = static_cast<double>(k) * binHz;
        const double lowest = std::max(hz, 0.5 * binHz); // the bin at 0 Hz reaches half a bin up
        return std::polar(std::exp(level.at(std::log(lowest), power)), phase.at(hz, phaseSlope));
    };
    for (std::size_t k = 0; k < first; ++k)
        transfer.bins()[k] = continued(k);
    // One passes into the other: a step there would ring on after the sound.
    for (auto k = first; k < last; ++k)
        transfer.bins()[k] = continued(k) + halfCosine(k - first, last - first) * (transfer.bins()[k] - continued(k));
    transfer.bins()[0] = transfer.bins()[0].real();
}

}
