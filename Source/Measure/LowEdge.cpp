#include "Measure/LowEdge.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace plumbline
{

LowEdge::LowEdge(const SpectrumBuffer& transfer, const ExcitedRange& range, double sampleRateHz) :
    binHz(sampleRateHz / static_cast<double>(transfer.length())), rate(sampleRateHz)
{
    constexpr double width = 1.06; // a twelfth of an octave of bins is averaged
    firstBin = static_cast<std::size_t>(range.lowHz / binHz) + 1;
    const auto last = std::min(static_cast<std::size_t>(range.lowHz * width / binHz) + 2, transfer.binCount());
    bins.assign(transfer.bins() + firstBin, transfer.bins() + std::max(last, firstBin + 1));
}

void LowEdge::continueBelow(std::span<double> samples, double firstSample, double arrivalSamples) const
{
    std::complex<double> edge = 0.0;
    for (std::size_t i = 0; i < bins.size(); ++i)
    {
        const double turns = static_cast<double>(firstBin + i) * binHz * arrivalSamples / rate;
        edge += bins[i] * std::polar(1.0, 2.0 * std::numbers::pi * turns) / static_cast<double>(bins.size());
    }
    // (2 / rate) Re of the integral of edge exp(j w t) from 0 to the middle between the first bin kept and the last not.
    const double radians = 2.0 * std::numbers::pi * (static_cast<double>(firstBin) - 0.5) * binHz / rate;
    for (std::size_t i = 0; i < samples.size(); ++i)
    {
        const double t = firstSample + static_cast<double>(i) - arrivalSamples;
        const auto turned = std::polar(1.0, radians * t) - 1.0;
        const double integral = std::abs(t) < 1e-6 ? (edge * radians).real() : (edge * turned / std::complex(0.0, t)).real();
        samples[i] += integral / std::numbers::pi;
    }
}

}
