#include "Measure/Sweep.h"

#include "Dsp/Windows.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace plumbline
{

namespace
{
constexpr double guardBelow = std::numbers::sqrt2; // half an octave under the band
constexpr double guardAbove = 1.0905;              // an eighth of an octave over it, Nyquist allowing
constexpr double highestOfRate = 0.49;
constexpr double fullFrom = 0.97, fullTo = 1.01; // full level a little beyond the band itself

std::string hertz(double value)
{
    return std::to_string(std::lround(value)) + " Hz";
}

/** Empty if the sweep can be designed. */
std::string reasonAgainst(double rate, double seconds, Band band)
{
    if (!(rate >= 8000.0 && rate <= 400000.0))
        return "a sample rate must lie between 8000 and 400000 Hz";
    if (!(seconds >= 1.0 && seconds <= 30.0))
        return "a sweep lasts 1 to 30 seconds";
    if (!(band.fromHz >= 5.0 && band.toHz >= 2.0 * band.fromHz))
        return "the band must begin at 5 Hz or higher and span an octave at least";
    if (!(band.toHz <= 0.455 * rate))
        return "the band ends at " + hertz(band.toHz) + ", but a rate of " + hertz(rate) +
               " carries a sweep only to " + hertz(0.455 * rate);
    return {};
}
}

double Sweep::harmonicAdvanceSeconds(int order) const noexcept
{
    return rateSeconds * std::log(static_cast<double>(order));
}

double Sweep::timeOfFrequency(double frequencyHz) const noexcept
{
    return rateSeconds * std::log(frequencyHz / startHz);
}

Result<Sweep> designSweep(double sampleRateHz, double seconds, Band band)
{
    if (const auto reason = reasonAgainst(sampleRateHz, seconds, band); !reason.empty())
        return Problem{ "sweep-impossible", "This sweep cannot be made: " + reason, "",
                        "Choose another length, band or rate" };
    Sweep sweep;
    sweep.sampleRateHz = sampleRateHz;
    sweep.startHz = band.fromHz / guardBelow;
    sweep.endHz = std::min(band.toHz * guardAbove, highestOfRate * sampleRateHz);
    const double octavesE = std::log(sweep.endHz / sweep.startHz);
    sweep.rateSeconds = std::max(1.0, std::round(sweep.startHz * seconds / octavesE)) / sweep.startHz;
    auto samplesAt = [&](double hz) { return sweep.timeOfFrequency(hz) * sampleRateHz; };
    sweep.samples = static_cast<std::size_t>(samplesAt(sweep.endHz)) + 1;
    sweep.fadeInSamples = static_cast<std::size_t>(samplesAt(band.fromHz * fullFrom));
    sweep.fadeOutSamples = sweep.samples - static_cast<std::size_t>(std::ceil(samplesAt(band.toHz * fullTo)));
    return sweep;
}

std::vector<double> synthesise(const Sweep& sweep)
{
    std::vector<double> samples(sweep.samples);
    const double cycles = std::round(sweep.startHz * sweep.rateSeconds);
    for (std::size_t i = 0; i < samples.size(); ++i)
    {
        const double seconds = static_cast<double>(i) / sweep.sampleRateHz;
        samples[i] = std::sin(2.0 * std::numbers::pi * cycles * std::exp(seconds / sweep.rateSeconds));
    }
    fadeIn(samples, sweep.fadeInSamples);
    fadeOut(samples, sweep.fadeOutSamples);
    return samples;
}

}
