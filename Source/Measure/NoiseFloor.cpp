#include "Measure/NoiseFloor.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace plumbline
{

NoiseFloor::NoiseFloor(const Inputs& inputs, double shareKept) : in(inputs), share(shareKept)
{
}

double NoiseFloor::errorPowerOver(double lowHz, double highHz) const noexcept
{
    // Expected |N|^2 a bin of a transform: one-sided density x rate x samples / 2.
    const double noise =
        in.microphone->mean(lowHz, highHz) * in.sampleRateHz * static_cast<double>(in.segmentSamples) / 2.0;
    const double played = in.played->power(0.5 * (lowHz + highHz), in.sampleRateHz);
    return played > 0.0 ? share * noise / played : std::numeric_limits<double>::infinity();
}

double NoiseFloor::errorPower(double frequencyHz, OctaveFraction smoothing) const noexcept
{
    const OctaveFraction narrow{
        24
    }; // of a single frequency the noise about it is asked: one bin alone scatters
    if (smoothing.none())
        return errorPowerOver(narrow.lowEdge(frequencyHz), narrow.highEdge(frequencyHz));
    constexpr int parts = 8;
    const double low = smoothing.lowEdge(frequencyHz), part = (smoothing.highEdge(frequencyHz) - low) / parts;
    double sum = 0.0;
    for (int i = 0; i < parts; ++i)
        sum += errorPowerOver(low + i * part, low + (i + 1) * part);
    return sum / parts;
}

double NoiseFloor::powerPerSample(double lowHz, double highHz) const noexcept
{
    constexpr int points = 192; // log spaced; the integral over frequency weights each by its width
    const double ratio = std::pow(highHz / lowHz, 1.0 / points);
    double sum = 0.0;
    for (int i = 0; i < points; ++i)
    {
        const double from = lowHz * std::pow(ratio, i);
        sum += errorPowerOver(from, from * ratio) * from * (ratio - 1.0);
    }
    // Parseval: sum |E|^2 over all N bins / N^2 a sample; bins of both signs, N / rate bins a hertz.
    const double binsPerHz = static_cast<double>(in.played->length()) / in.sampleRateHz;
    const auto samples = static_cast<double>(in.played->length());
    const double samplesSquared = samples * samples;
    return 2.0 * sum * binsPerHz / (share * samplesSquared);
}

double levelDeviationDb(double power, double errorPower, double independentValues) noexcept
{
    if (power <= 0.0)
        return std::numeric_limits<double>::infinity();
    const double variance =
        (2.0 * power * errorPower + errorPower * errorPower) / std::max(independentValues, 1.0);
    constexpr double decibelsPerNeper = 4.342944819032518; // 10 / ln 10
    return decibelsPerNeper * std::sqrt(variance) / power;
}

}
