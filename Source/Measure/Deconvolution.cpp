#include "Measure/Deconvolution.h"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <numbers>

namespace plumbline
{

namespace
{
constexpr double regularisation = 1e-10; // of the peak power: 30 dB under the weakest part of a 10-octave sweep

void load(std::span<const float> signal, double offset, SpectrumBuffer& buffer)
{
    assert(signal.size() <= buffer.length());
    std::transform(signal.begin(), signal.end(), buffer.samples(), [=](float x) { return x - offset; });
    std::fill(buffer.samples() + signal.size(), buffer.samples() + buffer.length() + 2, 0.0);
}

double largestPower(const SpectrumBuffer& spectrum)
{
    double largest = 0.0;
    for (std::size_t k = 0; k < spectrum.binCount(); ++k)
        largest = std::max(largest, std::norm(spectrum.bins()[k]));
    return largest;
}

/** Plain products: std::complex's own would look for infinities in the innermost loop. */
std::complex<double> ratio(std::complex<double> y, std::complex<double> x, double floor) noexcept
{
    const double inverse = 1.0 / (x.real() * x.real() + x.imag() * x.imag() + floor);
    return { (y.real() * x.real() + y.imag() * x.imag()) * inverse,
             (y.imag() * x.real() - y.real() * x.imag()) * inverse };
}
}

ExcitedRange excitedRange(const Sweep& sweep, Band band) noexcept
{
    constexpr double risen = 1.06; // a sixth of the way through the fade-in: 22 dB under full level
    constexpr double stillLoud = 1.05; // half-way through the fade-out, Nyquist allowing
    return { sweep.startHz * risen, std::min(band.toHz * stillLoud, sweep.endHz * 0.975), sweep.endHz * 0.998 };
}

PlayedSpectrum::PlayedSpectrum(std::span<const float> played, std::size_t transformLength, double offset) :
    spectrum(transformLength)
{
    load(played, offset, spectrum);
    spectrum.forward();
    peak = largestPower(spectrum);
}

double PlayedSpectrum::power(double frequencyHz, double sampleRateHz) const noexcept
{
    const double place = frequencyHz / sampleRateHz * static_cast<double>(spectrum.length());
    const auto last = static_cast<double>(spectrum.binCount() - 1);
    return std::norm(spectrum.bins()[static_cast<std::size_t>(std::clamp(std::round(place), 0.0, last))]);
}

SpectrumBuffer deconvolve(std::span<const float> captured, const PlayedSpectrum& played, double sampleRateHz,
                          const ExcitedRange& range, double offset)
{
    SpectrumBuffer response(played.length());
    load(captured, offset, response);
    response.forward();
    const double binsPerHz = static_cast<double>(played.length()) / sampleRateHz;
    auto binAt = [&](double hz) { return std::min(static_cast<std::size_t>(hz * binsPerHz), response.binCount()); };
    const std::size_t low = binAt(range.lowHz) + 1, taper = binAt(range.taperHz), high = binAt(range.highHz);
    auto* h = response.bins();
    const auto* x = played.bins();
    const double floor = regularisation * played.peakPower();
    std::fill(h, h + low, 0.0);
    for (std::size_t k = low; k < high; ++k)
        h[k] = ratio(h[k], x[k], floor);
    for (std::size_t k = taper; k < high; ++k)
    {
        const double part = static_cast<double>(k - taper) / static_cast<double>(high - taper);
        h[k] *= 0.5 + 0.5 * std::cos(std::numbers::pi * part);
    }
    std::fill(h + high, h + response.binCount(), 0.0);
    return response;
}

}
