#include "Measure/Deconvolution.h"

#include "Dsp/Turner.h"
#include "Dsp/Wide.h"

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>
#include <numbers>

namespace plumbline
{

namespace
{
constexpr double regularisation =
    1e-10; // of the peak power: 30 dB under the weakest part of a 10-octave sweep

SpectrumBuffer spectrumOf(std::span<const float> signal, double offset, std::size_t length)
{
    assert(signal.size() <= length);
    auto widen = [=](float x) { return x - offset; };
    SpectrumBuffer buffer(length, signal.size(),
                          [&](double* samples)
                          { std::transform(signal.begin(), signal.end(), samples, widen); });
    buffer.forward();
    return buffer;
}

PLUMBLINE_WIDE double largestPower(const std::complex<double>* bins, std::size_t count) noexcept
{
    // Several at a time, so that one comparison need not wait for the one before.
    constexpr std::size_t lanes = 8;
    std::array<double, lanes> largest{};
    std::size_t k = 0;
    for (; k + lanes <= count; k += lanes)
        for (std::size_t lane = 0; lane < lanes; ++lane)
            largest[lane] = std::max(largest[lane], std::norm(bins[k + lane]));
    for (; k < count; ++k)
        largest[0] = std::max(largest[0], std::norm(bins[k]));
    return *std::max_element(largest.begin(), largest.end());
}

/** y becomes y x* / (|x|^2 + floor). Plain products: std::complex's own would look for infinities in the
    innermost loop. Divisions first, in small pieces, so that the compiler does two at a time. */
PLUMBLINE_WIDE void divide(std::complex<double>* y, const std::complex<double>* x, std::size_t count, double floor) noexcept
{
    constexpr std::size_t piece = 64;
    std::array<double, piece> inverse{};
    for (std::size_t from = 0; from < count; from += piece, y += piece, x += piece)
    {
        const std::size_t here = std::min(piece, count - from);
        for (std::size_t k = 0; k < here; ++k)
            inverse[k] = 1.0 / (x[k].real() * x[k].real() + x[k].imag() * x[k].imag() + floor);
        for (std::size_t k = 0; k < here; ++k)
            y[k] = { (y[k].real() * x[k].real() + y[k].imag() * x[k].imag()) * inverse[k],
                     (y[k].imag() * x[k].real() - y[k].real() * x[k].imag()) * inverse[k] };
    }
}
}

ExcitedRange excitedRange(const Sweep& sweep, Band band) noexcept
{
    constexpr double risen = 1.06;     // a sixth of the way through the fade-in: 22 dB under full level
    constexpr double stillLoud = 1.05; // half-way through the fade-out, Nyquist allowing
    return { sweep.startHz * risen, std::min(band.toHz * stillLoud, sweep.endHz * 0.975),
             sweep.endHz * 0.998 };
}

PlayedSpectrum::PlayedSpectrum(std::span<const float> played, std::size_t transformLength, double offset)
    : spectrum(spectrumOf(played, offset, transformLength)), peak(largestPower(spectrum.bins(), spectrum.binCount()))
{
}

double PlayedSpectrum::power(double frequencyHz, double sampleRateHz) const noexcept
{
    const double place = frequencyHz / sampleRateHz * static_cast<double>(spectrum.length());
    const auto last = static_cast<double>(spectrum.binCount() - 1);
    return std::norm(spectrum.bins()[static_cast<std::size_t>(std::clamp(place + 0.5, 0.0, last))]);
}

SpectrumBuffer deconvolve(std::span<const float> captured, const PlayedSpectrum& played, double sampleRateHz,
                          const ExcitedRange& range, double offset)
{
    SpectrumBuffer response = spectrumOf(captured, offset, played.length());
    const double binsPerHz = static_cast<double>(played.length()) / sampleRateHz;
    auto binAt = [&](double hz)
    { return std::min(static_cast<std::size_t>(hz * binsPerHz), response.binCount()); };
    const std::size_t low = binAt(range.lowHz) + 1, taper = binAt(range.taperHz), high = binAt(range.highHz);
    auto* h = response.bins();
    const auto* x = played.bins();
    const double floor = regularisation * played.peakPower();
    std::fill(h, h + low, 0.0);
    divide(h + low, x + low, high - low, floor);
    Turner turn(0.0, std::numbers::pi / static_cast<double>(high - taper));
    for (std::size_t k = taper; k < high; ++k)
        h[k] *= 0.5 + 0.5 * turn.next().real();
    std::fill(h + high, h + response.binCount(), 0.0);
    return response;
}

}
