#include "Measure/FrequencyResponse.h"

#include "Core/Units.h"
#include "Dsp/SpectrumInterpolator.h"

#include <algorithm>
#include <cmath>
#include <numbers>

namespace plumbline
{

namespace
{

/** Unwrapped phase of a spectrum at rising frequencies.

    Whole turns are counted on the bins, which lie close enough together for that; no arctangent there, only
    the crossings of the negative real axis. */
class Unwrapper
{
public:
    Unwrapper(const TransferView& view, double fromHz)
        : transfer(view), binsPerHz(static_cast<double>(view.length) / view.sampleRateHz),
          counted(binBelow(fromHz))
    {
    }

    /** @param value the spectrum at this very frequency, not below the last one asked for */
    double radiansAt(double frequencyHz, std::complex<double> value)
    {
        for (const std::size_t bin = binBelow(frequencyHz); counted < bin; ++counted)
            turns += crossing(transfer.bins[counted], transfer.bins[counted + 1]);
        const auto last = transfer.bins[counted];
        return std::arg(value) + 2.0 * std::numbers::pi * (turns + crossing(last, value));
    }

private:
    std::size_t binBelow(double frequencyHz) const
    {
        return std::min(static_cast<std::size_t>(frequencyHz * binsPerHz), transfer.bins.size() - 1);
    }

    /** +1 where the phase passes 180 degrees upwards on the shorter way from a to b, -1 downwards. */
    static int crossing(std::complex<double> a, std::complex<double> b) noexcept
    {
        if ((a.imag() < 0.0) == (b.imag() < 0.0))
            return 0;
        const double turn = a.real() * b.imag() - a.imag() * b.real(); // > 0: counter-clockwise
        // Which axis the chord crosses: its real part where its imaginary part is zero.
        const double realAtCrossing = (a.real() * b.imag() - b.real() * a.imag()) / (b.imag() - a.imag());
        if (realAtCrossing >= 0.0)
            return 0;
        return turn > 0.0 ? 1 : -1;
    }

    const TransferView& transfer;
    double binsPerHz;
    std::size_t counted;
    int turns = 0;
};

std::vector<double> powerUpTo(const TransferView& transfer, double highestHz)
{
    const double binHz = transfer.sampleRateHz / static_cast<double>(transfer.length);
    const auto count = std::min(static_cast<std::size_t>(highestHz / binHz) + 2, transfer.bins.size());
    std::vector<double> power(count);
    for (std::size_t k = 0; k < count; ++k)
        power[k] = std::norm(transfer.bins[k]);
    return power;
}

/** Mean power about each frequency, or the power at it. */
std::vector<double> smoothedPower(const TransferView& transfer, const ResponseSettings& settings,
                                  const std::vector<double>& frequencies,
                                  const std::vector<std::complex<double>>& values)
{
    std::vector<double> power;
    power.reserve(frequencies.size());
    if (settings.smoothing.none())
    {
        for (const auto value : values)
            power.push_back(std::norm(value));
        return power;
    }
    const double binHz = transfer.sampleRateHz / static_cast<double>(transfer.length);
    const BandPower bands(powerUpTo(transfer, transfer.excited.toHz), binHz);
    for (const double f : frequencies)
        power.push_back(bands.mean(std::max(settings.smoothing.lowEdge(f), transfer.excited.fromHz),
                                   std::min(settings.smoothing.highEdge(f), transfer.excited.toHz)));
    return power;
}

/** Adds noise, deviation and what follows for the mask and the level at one frequency. */
void judge(FrequencyResponse& curve, std::size_t i, double power, const TransferView& transfer,
           const ResponseSettings& settings, const NoiseFloor* noise, double calibrationDb)
{
    const double f = curve.frequencyHz[i];
    double cleanPower = power;
    if (noise != nullptr && !noise->none())
    {
        const double error = noise->errorPower(f, settings.smoothing);
        const double width = settings.smoothing.highEdge(f) - settings.smoothing.lowEdge(f);
        cleanPower = power - error;
        curve.noiseDb.push_back(decibelsFromPower(error) - calibrationDb);
        curve.sdDb.push_back(levelDeviationDb(cleanPower, error, width * transfer.lookSeconds));
        curve.known[i] = curve.sdDb.back() <= largestKnownDeviationDb;
    }
    curve.known[i] = curve.known[i] && cleanPower > 0.0 && f >= transfer.lowestHz;
    curve.levelDb.push_back(cleanPower > 0.0 ? decibelsFromPower(cleanPower) - calibrationDb : std::nan(""));
}

}

FrequencyResponse readResponse(const TransferView& transfer, const ResponseSettings& settings,
                               const NoiseFloor* noise)
{
    FrequencyResponse curve;
    curve.frequencyHz = curveFrequencies(settings.band.fromHz, settings.band.toHz);
    curve.known.assign(curve.frequencyHz.size(), true);
    const SpectrumInterpolator spectrum(transfer.bins, transfer.length, transfer.sampleRateHz,
                                        transfer.centreSamples);
    std::vector<std::complex<double>> values;
    for (const double f : curve.frequencyHz)
        values.push_back(spectrum.at(f));
    const auto power = smoothedPower(transfer, settings, curve.frequencyHz, values);
    Unwrapper phase(transfer, settings.band.fromHz);
    const double delay = settings.travelSamples - transfer.timeOfFirstSample;
    for (std::size_t i = 0; i < curve.frequencyHz.size(); ++i)
    {
        const double f = curve.frequencyHz[i];
        const auto* calibration = settings.calibration;
        judge(curve, i, power[i], transfer, settings, noise, calibration ? calibration->levelDb(f) : 0.0);
        const double turns = f * delay / transfer.sampleRateHz;
        curve.phaseDeg.push_back(degreesFromRadians(phase.radiansAt(f, values[i])) + 360.0 * turns -
                                 (calibration ? calibration->phaseDeg(f) : 0.0));
    }
    // The first value decides how many whole turns to leave out.
    const double whole = curve.phaseDeg.empty() ? 0.0 : 360.0 * std::round(curve.phaseDeg.front() / 360.0);
    for (double& degrees : curve.phaseDeg)
        degrees -= whole;
    return curve;
}

}
