#include "Dsp/PowerDensity.h"

#include "Dsp/Fft.h"
#include "Dsp/Turner.h"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <numeric>

namespace plumbline
{

namespace
{
std::vector<double> hann(std::size_t count)
{
    std::vector<double> window(count);
    Turner turn(0.0, 2.0 * std::numbers::pi / static_cast<double>(count));
    for (double& value : window)
        value = 0.5 - 0.5 * turn.next().real();
    return window;
}

/** Even and fast for the transform, about a third of the stretch. */
std::size_t segmentLength(std::size_t available)
{
    std::size_t length = available / 3;
    while (length > 2 && fastTransformLength(length) != length)
        --length;
    return length;
}
}

PowerDensity::PowerDensity(std::span<const float> noise, double sampleRateHz)
{
    constexpr std::size_t fewest = 64;
    silent =
        noise.size() < fewest || std::all_of(noise.begin(), noise.end(), [](float x) { return x == 0.0f; });
    if (silent)
        return;
    const std::size_t length = segmentLength(noise.size());
    const auto window = hann(length);
    SpectrumBuffer buffer(length);
    density.assign(buffer.binCount(), 0.0);
    binHz = sampleRateHz / static_cast<double>(length);
    std::size_t segments = 0;
    for (std::size_t start = 0; start + length <= noise.size(); start += length / 2, ++segments)
    {
        const auto part = noise.subspan(start, length);
        const double mean = std::accumulate(part.begin(), part.end(), 0.0) / static_cast<double>(length);
        for (std::size_t i = 0; i < length; ++i)
            buffer.samples()[i] = (part[i] - mean) * window[i];
        buffer.forward();
        for (std::size_t k = 0; k < density.size(); ++k)
            density[k] += std::norm(buffer.bins()[k]);
    }
    const double windowEnergy = std::inner_product(window.begin(), window.end(), window.begin(), 0.0);
    const double scale = 2.0 / (windowEnergy * sampleRateHz * static_cast<double>(segments));
    for (double& value : density)
        value *= scale;
    bands.emplace(density, binHz);
}

double PowerDensity::mean(double lowHz, double highHz) const noexcept
{
    if (!bands)
        return 0.0;
    const double widen = std::max(0.0, binHz - (highHz - lowHz)) / 2.0;
    return bands->mean(lowHz - widen, highHz + widen);
}

double PowerDensity::at(double frequencyHz) const noexcept
{
    if (density.empty())
        return 0.0;
    const double place = std::clamp(frequencyHz / binHz, 0.0, static_cast<double>(density.size() - 1));
    const auto below = std::min(static_cast<std::size_t>(place), density.size() - 2);
    return std::lerp(density[below], density[below + 1], place - static_cast<double>(below));
}

}
