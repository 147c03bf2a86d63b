#include "BenchTake.h"

#include "Dsp/Random.h"
#include "Measure/SideAnalyser.h"

#include <algorithm>
#include <bit>
#include <cmath>
#include <cstdio>
#include <cstdlib>

namespace plumbline::bench
{

namespace
{

constexpr std::size_t segment = std::size_t{ 1 } << 19;
constexpr std::size_t loopbackDelay = 64, travel = 480; // samples

std::vector<double> decayingResponse(double t60Seconds, double rate, Random random)
{
    const auto count = static_cast<std::size_t>(std::min(1.2, 2.0 * t60Seconds) * rate);
    std::vector<double> taps(loopbackDelay + travel + count, 0.0);
    const double nepersPerSample = std::log(1000.0) / (t60Seconds * rate);
    double energy = 0.0;
    for (std::size_t i = 0; i < count; ++i)
        energy += std::exp(-2.0 * nepersPerSample * static_cast<double>(i));
    const double tail = 0.2 / std::sqrt(energy);
    for (std::size_t i = 1; i < count; ++i)
        taps[loopbackDelay + travel + i] =
            tail * random.normal() * std::exp(-nepersPerSample * static_cast<double>(i));
    taps[loopbackDelay + travel] = 1.0;
    return taps;
}

void addConvolved(std::vector<double>& into, std::size_t start, const std::vector<float>& played,
                  const std::vector<double>& taps)
{
    SpectrumBuffer sound(2 * segment), response(2 * segment);
    std::copy(played.begin(), played.end(), sound.samples());
    std::copy(taps.begin(), taps.end(), response.samples());
    sound.forward();
    response.forward();
    for (std::size_t k = 0; k < sound.binCount(); ++k)
        sound.bins()[k] *= response.bins()[k];
    sound.inverseUnscaled();
    for (std::size_t i = 0; i < played.size() + taps.size() && start + i < into.size(); ++i)
        into[start + i] += sound.samples()[i] / static_cast<double>(2 * segment);
}

void load(const std::vector<float>& signal, std::size_t start, SpectrumBuffer& buffer)
{
    std::copy_n(signal.begin() + static_cast<std::ptrdiff_t>(start), buffer.length(), buffer.samples());
}

}

Stimulus exactStimulus()
{
    StimulusSpec spec;
    spec.seconds = 9.4;
    spec.levelDbfs = -20.0;
    const auto sweep = designStimulus(spec).value().sweep;
    // Silence makes up the rest; half a sample less, as it is rounded upwards.
    spec.silenceSeconds = (static_cast<double>(segment - sweep.samples) - 0.5) / spec.sampleRateHz;
    const auto stimulus = designStimulus(spec).value();
    if (stimulus.segmentSamples() != segment)
    {
        std::fprintf(stderr, "The stimulus of the benchmark is %zu samples long, not 2^19.\n",
                     stimulus.segmentSamples());
        std::exit(1);
    }
    return stimulus;
}

Capture roomCapture(const Stimulus& stimulus, double t60Seconds)
{
    const auto played = playedSweep(stimulus);
    const double rate = stimulus.spec.sampleRateHz;
    const Random seed(20);
    std::vector<double> microphone(stimulus.totalSamples), reference(stimulus.totalSamples);
    for (const auto side : { Side::left, Side::right })
    {
        const auto start = stimulus.start(side);
        addConvolved(microphone, start, played, decayingResponse(t60Seconds, rate, seed.branch(start)));
        std::transform(played.begin(), played.end(),
                       reference.begin() + static_cast<std::ptrdiff_t>(start + loopbackDelay),
                       [](float x) { return static_cast<double>(x); });
    }
    Random noise = seed.branch(1);
    for (double& x : microphone)
        x += std::pow(10.0, -60.0 / 20.0) * noise.normal();
    Capture capture;
    capture.stimulus = stimulus;
    capture.stimulusStart = 0;
    capture.microphone = { microphone.begin(), microphone.end() };
    capture.reference = { reference.begin(), reference.end() };
    return capture;
}

std::size_t gatedLength(const TakeAnalysis& analysis, const Stimulus& stimulus)
{
    // The gate begins 0.1 s before the arrival, or as SideAnalyser says nearer to it after a short sweep.
    const double rate = stimulus.spec.sampleRateHz;
    const double before = std::min(0.1, 0.5 * stimulus.sweep.harmonicAdvanceSeconds(2));
    const auto gate = static_cast<std::size_t>((analysis.left.windowMs / 1000.0 + before) * rate);
    return std::max(std::bit_ceil(4 * gate), SideAnalyser::leastGatedLength(rate));
}

BareTransforms::BareTransforms(const Capture& take, std::size_t gated) : capture(take)
{
    for (int side = 0; side < 2; ++side)
        sides.push_back({ SpectrumBuffer(segment), SpectrumBuffer(segment), SpectrumBuffer(gated) });
}

void BareTransforms::refill()
{
    const std::size_t starts[] = { capture.stimulus.leftStart, *capture.stimulus.rightStart };
    for (std::size_t i = 0; i < sides.size(); ++i)
    {
        load(capture.reference, starts[i], sides[i].reference);
        load(capture.microphone, starts[i], sides[i].microphone);
        load(capture.microphone, starts[i], sides[i].gated);
    }
}

void BareTransforms::run()
{
    for (auto& side : sides)
    {
        side.reference.forward();
        side.microphone.forward();
        side.microphone.inverseUnscaled();
        side.gated.forward();
    }
}

}
