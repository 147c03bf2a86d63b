#include "AnalysisSteps.h"

#include "Measure/Arrival.h"
#include "Measure/CaptureFaults.h"
#include "Measure/Deconvolution.h"
#include "Measure/FrequencyResponse.h"
#include "Measure/Gate.h"
#include "Measure/ImpulseResponse.h"
#include "Measure/Location.h"
#include "Measure/LowEdge.h"
#include "Measure/SideAnalyser.h"

#include <bit>
#include <numeric>

namespace plumbline::bench
{

AnalysisSteps::AnalysisSteps(const Capture& take)
    : capture(take), all{ { "checks: finite, silent, clipped", {} },
                          { "placing: reference left against right", {} },
                          { "noise of the lead-in", {} },
                          { "reference: load, r2c, peak", {} },
                          { "microphone: load, r2c, divide, low edge", {} },
                          { "c2r", {} },
                          { "first arrival", {} },
                          { "gate: copy, fades, r2c", {} },
                          { "reading: smoothing, phase, noise", {} } }
{
}

template <class Work>
auto AnalysisSteps::measured(Part part, Work&& work)
{
    const double before = threadCpuSeconds();
    auto result = work();
    now[part] += threadCpuSeconds() - before;
    return result;
}

void AnalysisSteps::run()
{
    now = {};
    const auto& stimulus = capture.stimulus;
    measured(checks,
             [&]
             {
                 const CaptureExtent extent(capture);
                 return uselessness(capture, extent).has_value() || !doubts(capture, extent).empty();
             });
    measured(placing, [&] { return place(capture).ok(); });
    const auto quiet =
        std::span(capture.microphone).first(stimulus.leftStart).subspan(stimulus.leftStart / 4);
    const auto noise = measured(leadIn, [&] { return PowerDensity(quiet, stimulus.spec.sampleRateHz); });
    runSide(Side::left, noise);
    runSide(Side::right, noise);
    for (std::size_t part = 0; part < partCount; ++part)
        all[part].seconds.push_back(now[part]);
}

void AnalysisSteps::runSide(Side side, const PowerDensity& noise)
{
    const auto& stimulus = capture.stimulus;
    const double rate = stimulus.spec.sampleRateHz;
    const auto length = stimulus.segmentSamples();
    const auto range = excitedRange(stimulus.sweep, stimulus.spec.band);
    auto part = [&](const std::vector<float>& signal)
    { return std::span(signal).subspan(stimulus.start(side), length); };
    const PlayedSpectrum played =
        measured(reference, [&] { return PlayedSpectrum(part(capture.reference), length); });
    auto transfer = measured(division,
                             [&]
                             {
                                 auto divided = deconvolve(part(capture.microphone), played, rate, range);
                                 continueBelow(divided, range, rate);
                                 return divided;
                             });
    const auto impulse = measured(inverse, [&] { return ImpulseResponse(std::move(transfer), rate); });
    const auto silence = static_cast<std::ptrdiff_t>(stimulus.silenceSamples);
    const auto first =
        measured(arrival, [&] { return firstArrival(impulse, -240, silence, stimulus.spec.band); });
    const NoiseFloor floor({ &noise, &played, length, rate }, 1.0);
    Gate gate;
    const auto looked =
        measured(gating,
                 [&]
                 {
                     const auto after =
                         static_cast<std::size_t>(static_cast<double>(silence) - first.samples);
                     const GateLimits limits{ first.samples, static_cast<std::size_t>(0.1 * rate), after };
                     gate = automaticGate(impulse, limits, floor.powerPerSample(20.0, 20000.0));
                     SpectrumBuffer buffer(
                         std::max(std::bit_ceil(4 * gate.length()), SideAnalyser::leastGatedLength(rate)));
                     const std::span<double> samples(buffer.samples(), gate.length());
                     impulse.copy(gate.firstSample, samples);
                     gate.apply(samples);
                     buffer.forward();
                     return buffer;
                 });
    const TransferView view{ .bins = { looked.bins(), looked.binCount() },
                             .length = looked.length(),
                             .sampleRateHz = rate,
                             .timeOfFirstSample = static_cast<double>(gate.firstSample),
                             .centreSamples = static_cast<double>(gate.length()) / 2.0,
                             .lookSeconds = gate.energy() / rate,
                             .lowestHz = 5.0,
                             .excited = { range.lowHz, range.taperHz } };
    const ResponseSettings settings{ stimulus.spec.band, {}, nullptr, first.samples };
    measured(reading, [&] { return readResponse(view, settings, &floor); });
}

Quartiles AnalysisSteps::sum() const
{
    std::vector<double> sums(all.front().seconds.size(), 0.0);
    for (const auto& step : all)
        std::transform(sums.begin(), sums.end(), step.seconds.begin(), sums.begin(), std::plus{});
    return quartilesOf(sums);
}

}
