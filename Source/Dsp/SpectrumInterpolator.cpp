#include "Dsp/SpectrumInterpolator.h"

#include "Dsp/Windows.h"

#include <array>
#include <cmath>
#include <numbers>

namespace plumbline
{

namespace
{
constexpr int halfTaps = 16;
constexpr double beta = 14.5; // side lobes near -145 dB
constexpr int tableSteps = 4096;

/** Kaiser window over one half, tabulated; linear look-up is good to 1e-7 at this step. */
const std::array<double, tableSteps + 2>& kaiserTable()
{
    static const auto table = []
    {
        std::array<double, tableSteps + 2> t{};
        for (int i = 0; i <= tableSteps; ++i)
            t[static_cast<std::size_t>(i)] = kaiser(static_cast<double>(i) / tableSteps, beta);
        return t;
    }();
    return table;
}

double windowAt(const double* table, double distance) noexcept
{
    const double x = std::abs(distance) / halfTaps * tableSteps;
    const auto whole = static_cast<std::size_t>(x);
    return table[whole] + (table[whole + 1] - table[whole]) * (x - static_cast<double>(whole));
}
}

SpectrumInterpolator::SpectrumInterpolator(std::span<const std::complex<double>> spectrum, std::size_t points,
                                           double sampleRateHz, double centreSamples)
    : bins(spectrum), length(static_cast<double>(points)),
      binsPerHz(static_cast<double>(points) / sampleRateHz),
      turnPerBin(2.0 * std::numbers::pi * centreSamples / static_cast<double>(points)),
      turn(std::polar(1.0, turnPerBin))
{
    kaiserTable();
}

std::complex<double> SpectrumInterpolator::bin(long index) const noexcept
{
    const auto half = static_cast<long>(bins.size()) - 1;
    const long folded = std::abs(index) > half ? 2 * half - std::abs(index) : std::abs(index);
    const auto value = bins[static_cast<std::size_t>(folded)];
    return index < 0 || index > half ? std::conj(value) : value;
}

std::complex<double> SpectrumInterpolator::at(double frequencyHz) const noexcept
{
    const double place = frequencyHz * binsPerHz;
    const auto below = static_cast<long>(std::floor(place));
    const double fraction = place - static_cast<double>(below);
    const double sine = std::sin(std::numbers::pi * fraction);
    const double* table = kaiserTable().data();
    auto rotation = std::polar(1.0, turnPerBin * (1 - halfTaps - fraction));
    double real = 0.0, imaginary = 0.0; // plain products: std::complex's own would look for infinities
    for (int tap = 1 - halfTaps; tap <= halfTaps; ++tap)
    {
        const double distance = fraction - tap;
        const double sign = tap % 2 == 0 ? 1.0 : -1.0;
        const double sinc = std::abs(distance) < 1e-12 ? 1.0 : sign * sine / (std::numbers::pi * distance);
        const double weight = sinc * windowAt(table, distance);
        const auto value = bin(below + tap);
        real += weight * (value.real() * rotation.real() - value.imag() * rotation.imag());
        imaginary += weight * (value.real() * rotation.imag() + value.imag() * rotation.real());
        rotation = { rotation.real() * turn.real() - rotation.imag() * turn.imag(),
                     rotation.real() * turn.imag() + rotation.imag() * turn.real() };
    }
    return { real, imaginary };
}

}
