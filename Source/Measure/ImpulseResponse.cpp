#include "Measure/ImpulseResponse.h"

#include "Dsp/Wide.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace plumbline
{

ImpulseResponse::ImpulseResponse(SpectrumBuffer transfer, double sampleRateHz)
    : buffer(std::move(transfer)), scale(1.0 / static_cast<double>(buffer.length())), rate(sampleRateHz)
{
    buffer.inverseUnscaled();
}

void ImpulseResponse::copy(std::ptrdiff_t first, std::span<double> into) const noexcept
{
    for (std::size_t i = 0; i < into.size(); ++i)
        into[i] = at(first + static_cast<std::ptrdiff_t>(i));
}

namespace
{
/** Several at a time, so that one comparison need not wait for the one before. */
PLUMBLINE_WIDE double largestOf(std::span<const double> samples) noexcept
{
    constexpr std::size_t lanes = 8;
    std::array<double, lanes> largest{};
    std::size_t i = 0;
    for (; i + lanes <= samples.size(); i += lanes)
        for (std::size_t lane = 0; lane < lanes; ++lane)
            largest[lane] = std::max(largest[lane], std::abs(samples[i + lane]));
    for (; i < samples.size(); ++i)
        largest[0] = std::max(largest[0], std::abs(samples[i]));
    return *std::max_element(largest.begin(), largest.end());
}
}

double ImpulseResponse::largest(std::ptrdiff_t first, std::ptrdiff_t last) const noexcept
{
    const auto part = [&](std::ptrdiff_t from, std::ptrdiff_t to) {
        return to > from ? largestOf({ buffer.samples() + from, buffer.samples() + to }) : 0.0;
    };
    const auto n = static_cast<std::ptrdiff_t>(buffer.length());
    const double negative = first < 0 ? part(n + first, n + std::min<std::ptrdiff_t>(last, 0)) : 0.0;
    return scale * std::max(negative, part(std::max<std::ptrdiff_t>(first, 0), last));
}

}
