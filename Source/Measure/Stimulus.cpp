#include "Measure/Stimulus.h"

#include "Core/Units.h"

#include <cmath>

namespace plumbline
{

namespace
{
std::optional<Problem> faultOf(const StimulusSpec& spec)
{
    auto problem = [](std::string what, std::string remedy) {
        return Problem{ "stimulus-impossible", std::move(what), "", std::move(remedy) };
    };
    if (!(spec.levelDbfs <= ceilingDbfs))
        return problem("The level is above the ceiling of -6 dBFS",
                       "Choose a lower level, and turn the monitors up if need be");
    if (!(spec.levelDbfs >= -120.0))
        return problem("The level is below -120 dBFS", "Choose a higher level");
    if (!(spec.leadInSeconds >= 0.1 && spec.leadInSeconds <= 10.0))
        return problem("The silence before the first sweep must last 0.1 to 10 seconds",
                       "Choose another length");
    if (!(spec.silenceSeconds >= 1.0 && spec.silenceSeconds <= 10.0))
        return problem("The silence after a sweep must last 1 to 10 seconds", "Choose another length");
    return std::nullopt;
}
}

Result<Stimulus> designStimulus(const StimulusSpec& spec)
{
    if (auto fault = faultOf(spec))
        return *fault;
    auto sweep = designSweep(spec.sampleRateHz, spec.seconds, spec.band);
    if (!sweep)
        return sweep.problem();
    auto samples = [&](double seconds)
    { return static_cast<std::size_t>(std::ceil(seconds * spec.sampleRateHz)); };
    Stimulus stimulus;
    stimulus.spec = spec;
    stimulus.sweep = *sweep;
    stimulus.leadInSamples = samples(spec.leadInSeconds);
    stimulus.silenceSamples = samples(spec.silenceSeconds);
    stimulus.leftStart = stimulus.leadInSamples;
    stimulus.totalSamples = stimulus.leftStart + stimulus.segmentSamples();
    if (spec.pair)
    {
        stimulus.rightStart = stimulus.totalSamples;
        stimulus.totalSamples += stimulus.segmentSamples();
    }
    return stimulus;
}

std::vector<float> playedSweep(const Stimulus& stimulus)
{
    const double peak = amplitudeFromDecibels(stimulus.spec.levelDbfs);
    const auto samples = synthesise(stimulus.sweep);
    std::vector<float> played(samples.size());
    for (std::size_t i = 0; i < samples.size(); ++i)
        played[i] = static_cast<float>(peak * samples[i]);
    return played;
}

}
