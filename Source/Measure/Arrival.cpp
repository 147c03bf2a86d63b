#include "Measure/Arrival.h"

#include "Dsp/Windows.h"

#include <algorithm>
#include <bit>
#include <cmath>
#include <numbers>
#include <vector>

namespace plumbline
{

namespace
{

constexpr double onsetBelowPeak = 0.1; // 20 dB
constexpr double beforeOnsetSeconds = 0.001, afterOnsetSeconds = 0.0025, peakWithinSeconds = 0.001;

std::ptrdiff_t onsetOf(const ImpulseResponse& response, std::ptrdiff_t earliest, std::ptrdiff_t latest)
{
    const double largest = response.largest(earliest, latest);
    auto onset = earliest;
    while (onset + 1 < latest && std::abs(response.at(onset)) < onsetBelowPeak * largest)
        ++onset;
    return onset;
}

/** A Hann window over linear frequency. */
double weight(double hz, double topHz)
{
    const double low = 0.075 * topHz;
    const double part = std::clamp((hz - low) / (topHz - low), 0.0, 1.0);
    return 0.5 - 0.5 * std::cos(2.0 * std::numbers::pi * part);
}

/** The direct sound, weighted, as a sum of cosines: its value at any time. */
class DirectSound
{
public:
    DirectSound(const ImpulseResponse& response, std::ptrdiff_t onset, double topHz)
    {
        const double rate = response.sampleRateHz();
        const auto before = static_cast<std::size_t>(beforeOnsetSeconds * rate);
        const auto count = before + static_cast<std::size_t>(afterOnsetSeconds * rate);
        first = static_cast<double>(onset) - static_cast<double>(before);
        SpectrumBuffer buffer(std::bit_ceil(count + count / 2));
        std::vector<double> piece(count);
        response.copy(onset - static_cast<std::ptrdiff_t>(before), piece);
        fadeIn(piece, before / 2);
        fadeOut(piece, (count - before) / 2);
        std::copy(piece.begin(), piece.end(), buffer.samples());
        buffer.forward();
        radiansPerBin = 2.0 * std::numbers::pi / static_cast<double>(buffer.length());
        for (std::size_t k = 0; k < buffer.binCount(); ++k)
            bins.push_back(
                buffer.bins()[k] *
                weight(static_cast<double>(k) * rate / static_cast<double>(buffer.length()), topHz));
    }

    double at(double time) const noexcept
    {
        const auto turn = std::polar(1.0, radiansPerBin * (time - first));
        std::complex<double> rotation = 1.0;
        double sum = 0.0;
        for (const auto bin : bins)
        {
            sum += bin.real() * rotation.real() - bin.imag() * rotation.imag();
            rotation *= turn;
        }
        return sum;
    }

private:
    std::vector<std::complex<double>> bins;
    double first, radiansPerBin;
};

/** Of the peaks about the onset the first that is at least two thirds of the largest; to an eighth of a
    sample. */
double firstStrongPeak(const DirectSound& sound, double onset, double rate)
{
    constexpr double strong = 0.66, step = 0.125;
    const double reach = std::max(4.0, peakWithinSeconds * rate);
    std::vector<double> size;
    for (double time = onset - 0.25 * reach; time < onset + reach; time += step)
        size.push_back(std::abs(sound.at(time)));
    const double enough = strong * *std::max_element(size.begin(), size.end());
    std::size_t peak = 1;
    while (peak + 1 < size.size() &&
           !(size[peak] >= enough && size[peak] >= size[peak - 1] && size[peak] >= size[peak + 1]))
        ++peak;
    return onset - 0.25 * reach + step * static_cast<double>(peak);
}

/** Newton's steps on the slope, by central differences wide enough that rounding does not decide. */
double refined(const DirectSound& sound, double around)
{
    constexpr double step = 0.05;
    double time = around;
    for (int i = 0; i < 8; ++i)
    {
        const double before = sound.at(time - step), here = sound.at(time), after = sound.at(time + step);
        const double curvature = before - 2.0 * here + after;
        if (curvature == 0.0)
            break;
        const double move = std::clamp(0.5 * step * (before - after) / curvature, -0.25, 0.25);
        time += move;
        if (std::abs(move) < 1e-7)
            break;
    }
    return std::clamp(time, around - 1.0, around + 1.0);
}

}

Arrival firstArrival(const ImpulseResponse& response, std::ptrdiff_t earliest, std::ptrdiff_t latest,
                     Band band)
{
    const auto onset = onsetOf(response, earliest, latest);
    const DirectSound sound(response, onset, band.toHz);
    const double place = firstStrongPeak(sound, static_cast<double>(onset), response.sampleRateHz());
    return { refined(sound, place), sound.at(place) < 0.0 ? -1 : 1 };
}

}
