#include "Dsp/FractionalOctave.h"

#include <algorithm>
#include <cmath>

namespace plumbline
{

double OctaveFraction::lowEdge(double centreHz) const noexcept
{
    return none() ? centreHz : centreHz * std::exp2(-0.5 / perOctave);
}

double OctaveFraction::highEdge(double centreHz) const noexcept
{
    return none() ? centreHz : centreHz * std::exp2(0.5 / perOctave);
}

BandPower::BandPower(std::span<const double> power, double binWidthHz)
    : running(power.size() + 1), binHz(binWidthHz)
{
    double sum = 0.0;
    for (std::size_t k = 0; k < power.size(); ++k)
        running[k + 1] = sum += power[k];
}

double BandPower::below(double bin) const noexcept
{
    const double last = static_cast<double>(running.size() - 1);
    const double at = std::clamp(bin, 0.0, last);
    const auto whole = std::min(static_cast<std::size_t>(at), running.size() - 2);
    return running[whole] + (running[whole + 1] - running[whole]) * (at - static_cast<double>(whole));
}

double BandPower::mean(double lowHz, double highHz) const noexcept
{
    // Bin k stands for (k - 1/2 .. k + 1/2) bins.
    const double low = std::max(lowHz / binHz + 0.5, 0.0);
    const double high = std::min(highHz / binHz + 0.5, static_cast<double>(running.size() - 1));
    return high > low ? (below(high) - below(low)) / (high - low) : 0.0;
}

std::vector<double> curveFrequencies(double lowHz, double highHz)
{
    constexpr double perOctave = 48.0, slack = 1e-9;
    const auto first = static_cast<int>(std::ceil(perOctave * std::log2(lowHz / 1000.0) - slack));
    const auto last = static_cast<int>(std::floor(perOctave * std::log2(highHz / 1000.0) + slack));
    std::vector<double> frequencies;
    for (int k = first; k <= last; ++k)
        frequencies.push_back(1000.0 * std::exp2(k / perOctave));
    return frequencies;
}

}
