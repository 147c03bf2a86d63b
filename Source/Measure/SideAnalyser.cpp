#include "Measure/SideAnalyser.h"

#include "Measure/Gate.h"
#include "Measure/ImpulseResponse.h"
#include "Measure/LowEdge.h"
#include "Measure/NoiseFloor.h"

#include <algorithm>
#include <bit>
#include <cmath>
#include <numeric>

namespace plumbline
{

namespace
{
constexpr double earliestArrivalSeconds = 0.005; // before the loopback: a recording's own slack
constexpr double heardShare = 0.05;              // of the band must stand clear of the noise
constexpr double leastPlayedShare = 1e-7;        // of the peak power: 40 dB under the weakest part of a sweep
}

SideAnalyser::SideAnalyser(const Capture& take, const AnalysisSettings& wishes, const Placement& where)
    : capture(take), stimulus(take.stimulus), settings(wishes), placement(where),
      rate(stimulus.spec.sampleRateHz), range(excitedRange(stimulus.sweep, stimulus.spec.band)),
      transformLength(usualLength(stimulus)), noise(leadIn(take.microphone), rate),
      microphoneOffset(offsetOf(take.microphone)), referenceOffset(offsetOf(take.reference))
{
}

/** The segment's length; longer for the shortest sweeps, whose bins would lie so far apart that reading
    between them at the band's lower end reached under the sweep (SpectrumInterpolator takes 16 bins either
    side, a quarter of fromHz is free). */
std::size_t SideAnalyser::usualLength(const Stimulus& stimulus)
{
    const double least = 16.0 / (0.24 * stimulus.spec.band.fromHz) * stimulus.spec.sampleRateHz;
    return fastTransformLength(std::max(stimulus.segmentSamples(), static_cast<std::size_t>(least)));
}

std::size_t SideAnalyser::leastGatedLength(double sampleRateHz)
{
    return std::bit_ceil(static_cast<std::size_t>(1.3 * sampleRateHz));
}

std::span<const float> SideAnalyser::within(std::ptrdiff_t from, std::ptrdiff_t to,
                                            const std::vector<float>& signal) const
{
    const auto last = static_cast<std::ptrdiff_t>(signal.size());
    const auto begin = std::clamp<std::ptrdiff_t>(from, 0, last),
               end = std::clamp<std::ptrdiff_t>(to, begin, last);
    return std::span(signal).subspan(static_cast<std::size_t>(begin), static_cast<std::size_t>(end - begin));
}

/** The silence before the left sweep: its last three quarters, clear of what faded before it. */
std::span<const float> SideAnalyser::leadIn(const std::vector<float>& signal) const
{
    const auto end = placement.stimulusStart + static_cast<std::ptrdiff_t>(stimulus.leftStart);
    const auto begin = std::max<std::ptrdiff_t>(0, placement.stimulusStart);
    return within(begin + std::max<std::ptrdiff_t>(0, end - begin) / 4, end, signal);
}

std::span<const float> SideAnalyser::segment(const std::vector<float>& signal, Side side) const
{
    const auto begin = placement.stimulusStart + static_cast<std::ptrdiff_t>(stimulus.start(side));
    return within(begin, begin + static_cast<std::ptrdiff_t>(stimulus.segmentSamples()), signal);
}

/** A converter's direct voltage, from the lead-in where there is one. */
double SideAnalyser::offsetOf(const std::vector<float>& signal) const
{
    const auto part = noiseKnown() ? leadIn(signal) : std::span(signal);
    return part.empty() ? 0.0
                        : std::accumulate(part.begin(), part.end(), 0.0) / static_cast<double>(part.size());
}

const PlayedSpectrum& SideAnalyser::playedFor(Side side)
{
    const bool alike = capture.reference.empty() || placement.referenceLeftOnly;
    if (spectrum && alike)
        return *spectrum;
    spectrum.reset(); // frees the other side's memory first
    if (capture.reference.empty())
        spectrum.emplace(playedSweep(stimulus), transformLength);
    else
        spectrum.emplace(segment(capture.reference, alike ? Side::left : side), transformLength,
                         referenceOffset);
    return *spectrum;
}

NoiseFloor SideAnalyser::noiseFloor(const PlayedSpectrum& played, double shareKept) const
{
    return { { &noise, &played, stimulus.segmentSamples(), rate }, shareKept };
}

/** The response's largest value must lie where a sound can: after the loopback, and within the silence. */
std::optional<Problem> SideAnalyser::faultOfTiming(const ImpulseResponse& impulse) const
{
    constexpr double clearly = 2.0;
    const auto early = std::lround(earliestArrivalSeconds * rate);
    const auto late = static_cast<std::ptrdiff_t>(stimulus.silenceSamples);
    const double inside = impulse.largest(-early, late);
    const double outside = impulse.largest(late, static_cast<std::ptrdiff_t>(impulse.length()) - early);
    if (outside <= clearly * inside)
        return std::nullopt;
    return Problem{ "timing-impossible",
                    "The sound comes before the reference, or later than the silence after the sweep allows",
                    "",
                    "Check the channels chosen and the latency, or make a stimulus with a longer silence" };
}

/** Looks where the response must be silent: after the silence has ended, before the earliest harmonic that
    counts. What is there is noise, and its power is known from the lead-in. Ten times more, and more than a
    hundred-millionth of the peak, is something else. */
bool SideAnalyser::isDisturbed(const ImpulseResponse& impulse, const PlayedSpectrum& played) const
{
    constexpr int highestOrder = 8;
    constexpr double clearly = 10.0, underPeak = 1e-8;
    const auto from = static_cast<std::ptrdiff_t>(stimulus.silenceSamples);
    const auto to = static_cast<std::ptrdiff_t>(impulse.length()) -
                    std::lround((stimulus.sweep.harmonicAdvanceSeconds(highestOrder) + 0.05) * rate);
    if (!noiseKnown() || to - from < std::lround(0.1 * rate))
        return false;
    double power = 0.0;
    for (auto i = from; i < to; ++i)
        power += impulse.at(i) * impulse.at(i);
    power /= static_cast<double>(to - from);
    const double predicted =
        noise.none() ? 0.0 : noiseFloor(played, 1.0).powerPerSample(range.lowHz, range.taperHz);
    const double peak = impulse.largest(-std::lround(earliestArrivalSeconds * rate), from);
    return power > clearly * predicted + underPeak * peak * peak;
}

Arrival SideAnalyser::arrivalIn(const ImpulseResponse& impulse) const
{
    return firstArrival(impulse, -std::lround(earliestArrivalSeconds * rate),
                        static_cast<std::ptrdiff_t>(stimulus.silenceSamples), stimulus.spec.band);
}

Result<SideAnalysis> SideAnalyser::analyse(Side side)
{
    const auto& played = playedFor(side);
    const auto captured = segment(capture.microphone, side);
    auto transfer = deconvolve(captured, played, rate, range, microphoneOffset);
    auto analysis = settings.window.kind == WindowChoice::Kind::full ? ungated(std::move(transfer), played)
                                                                     : gated(std::move(transfer), played);
    if (analysis)
        withholdIfUnheard(*analysis, captured);
    return analysis;
}

/** The response as it is in the bins of the division; the impulse response serves the arrival alone. */
Result<SideAnalysis> SideAnalyser::ungated(SpectrumBuffer transfer, const PlayedSpectrum& played) const
{
    SpectrumBuffer continued = transfer;
    continueBelow(continued, range, rate);
    const ImpulseResponse impulse(std::move(continued), rate);
    if (auto fault = faultOfTiming(impulse))
        return *fault;
    const Arrival arrival = arrivalIn(impulse);
    const double after = std::max(1.0, static_cast<double>(stimulus.silenceSamples) - arrival.samples);
    TransferView view;
    view.bins = { transfer.bins(), transfer.binCount() };
    view.length = transformLength;
    view.centreSamples = arrival.samples + after / 2.0;
    view.lookSeconds = static_cast<double>(stimulus.segmentSamples()) / rate;
    auto side = read(view, arrival, after, noiseFloor(played, 1.0), played);
    side.disturbed = isDisturbed(impulse, played);
    return side;
}

GateLimits SideAnalyser::gateLimits(const Arrival& arrival) const
{
    // Harmonics arrive early, the second latest: L ln 2 before. Half of that is free of them.
    const double early = std::min(0.1, 0.5 * stimulus.sweep.harmonicAdvanceSeconds(2));
    const double after = static_cast<double>(stimulus.silenceSamples) - arrival.samples;
    return { arrival.samples, static_cast<std::size_t>(early * rate),
             static_cast<std::size_t>(std::max(1.0, after)) };
}

Gate SideAnalyser::chooseGate(const ImpulseResponse& impulse, const GateLimits& limits,
                              const PlayedSpectrum& played) const
{
    if (settings.window.kind == WindowChoice::Kind::fixed)
        return fixedGate(limits, settings.window.milliseconds, rate);
    const double power =
        noise.none() ? 0.0 : noiseFloor(played, 1.0).powerPerSample(range.lowHz, range.taperHz);
    return automaticGate(impulse, limits, power);
}

Result<SideAnalysis> SideAnalyser::gated(SpectrumBuffer transfer, const PlayedSpectrum& played) const
{
    continueBelow(transfer, range, rate);
    const ImpulseResponse impulse(std::move(transfer), rate);
    if (auto fault = faultOfTiming(impulse))
        return *fault;
    const Arrival arrival = arrivalIn(impulse);
    const Gate gate = chooseGate(impulse, gateLimits(arrival), played);
    // Four times the gate at least, for reading between the bins.
    const auto look = [&](double* first)
    {
        const std::span<double> samples(first, gate.length());
        impulse.copy(gate.firstSample, samples);
        gate.apply(samples);
    };
    SpectrumBuffer looked(std::max(std::bit_ceil(4 * gate.length()), leastGatedLength(rate)), gate.length(),
                          look);
    looked.forward();
    TransferView view;
    view.bins = { looked.bins(), looked.binCount() };
    view.length = looked.length();
    view.timeOfFirstSample = static_cast<double>(gate.firstSample);
    view.centreSamples = static_cast<double>(gate.length()) / 2.0;
    view.lookSeconds = gate.energy() / rate;
    const double after = view.timeOfFirstSample + static_cast<double>(gate.length()) - arrival.samples;
    view.lowestHz = rate / after;
    const double share = gate.energy() / static_cast<double>(transformLength);
    auto side = read(view, arrival, after, noiseFloor(played, share), played);
    side.disturbed = isDisturbed(impulse, played);
    return side;
}

SideAnalysis SideAnalyser::read(TransferView view, const Arrival& arrival, double afterSamples,
                                const NoiseFloor& floor, const PlayedSpectrum& played) const
{
    view.sampleRateHz = rate;
    view.excited = { range.lowHz, range.taperHz };
    const auto& calibration = settings.microphone.calibration;
    const ResponseSettings wishes{ stimulus.spec.band, settings.smoothing,
                                   calibration ? &*calibration : nullptr, arrival.samples };
    SideAnalysis side;
    side.travelTimeSeconds = arrival.samples / rate;
    side.polarity = arrival.polarity;
    side.windowMs = 1000.0 * afterSamples / rate;
    side.response = readResponse(view, wishes, noiseKnown() ? &floor : nullptr);
    // What the reference says was not played is not known either.
    for (std::size_t i = 0; i < side.response.known.size(); ++i)
        if (played.power(side.response.frequencyHz[i], rate) < leastPlayedShare * played.peakPower())
            side.response.known[i] = false;
    return side;
}

/** Of a side that was not heard nothing is claimed. */
void SideAnalyser::withholdIfUnheard(SideAnalysis& side, std::span<const float> captured) const
{
    auto& known = side.response.known;
    const auto count = static_cast<double>(std::count(known.begin(), known.end(), true));
    const bool anything =
        std::any_of(captured.begin(), captured.end(), [](float x) { return std::abs(x) > 1e-7f; });
    if (anything && count >= heardShare * static_cast<double>(known.size()))
        return;
    side.travelTimeSeconds.reset();
    side.polarity.reset();
    known.assign(known.size(), false);
}

}
