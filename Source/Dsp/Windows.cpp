#include "Dsp/Windows.h"

#include "Dsp/Turner.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace plumbline
{

double halfCosine(std::size_t index, std::size_t count) noexcept
{
    return 0.5 -
           0.5 * std::cos(std::numbers::pi * (static_cast<double>(index) + 0.5) / static_cast<double>(count));
}

namespace
{
/** Its real part goes from 1 to -1 as halfCosine() needs it. */
Turner halfTurn(std::size_t count) noexcept
{
    const double step = std::numbers::pi / static_cast<double>(std::max<std::size_t>(count, 1));
    return { 0.5 * step, step };
}
}

void fadeIn(std::span<double> samples, std::size_t count) noexcept
{
    count = std::min(count, samples.size());
    Turner turn = halfTurn(count);
    for (std::size_t i = 0; i < count; ++i)
        samples[i] *= 0.5 - 0.5 * turn.next().real();
}

void fadeOut(std::span<double> samples, std::size_t count) noexcept
{
    count = std::min(count, samples.size());
    Turner turn = halfTurn(count);
    for (std::size_t i = 0; i < count; ++i)
        samples[samples.size() - 1 - i] *= 0.5 - 0.5 * turn.next().real();
}

double besselI0(double x) noexcept
{
    const double quarter = x * x / 4.0;
    double term = 1.0, sum = 1.0;
    for (int k = 1; term > 1e-17 * sum; ++k)
    {
        term *= quarter / (static_cast<double>(k) * k);
        sum += term;
    }
    return sum;
}

double kaiser(double x, double beta) noexcept
{
    const double inside = 1.0 - x * x;
    return inside < 0.0 ? 0.0 : besselI0(beta * std::sqrt(inside)) / besselI0(beta);
}

}
