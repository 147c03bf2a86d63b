#pragma once

#include "Core/Units.h"
#include "Measure/Capture.h"

#include <cmath>
#include <complex>
#include <functional>
#include <numbers>
#include <vector>

namespace plumbline::test
{

/** A system as a short list of taps: delay in whole samples, gain. Convolved by its definition. */
struct Tap
{
    std::size_t delay;
    double gain;
};

using Taps = std::vector<Tap>;

/** Exact response of such a system. */
inline std::complex<double> responseOf(const Taps& taps, double hz, double rate)
{
    std::complex<double> sum = 0.0;
    for (const auto& tap : taps)
        sum +=
            tap.gain * std::polar(1.0, -2.0 * std::numbers::pi * hz * static_cast<double>(tap.delay) / rate);
    return sum;
}

inline void addThrough(std::vector<double>& into, const std::vector<float>& played, std::size_t start,
                       const Taps& taps)
{
    for (const auto& tap : taps)
        for (std::size_t i = 0; i < played.size(); ++i)
            if (start + tap.delay + i < into.size())
                into[start + tap.delay + i] += tap.gain * static_cast<double>(played[i]);
}

inline std::vector<float> rounded(const std::vector<double>& samples)
{
    return { samples.begin(), samples.end() };
}

/** A capture of a stimulus through one system a side, with a loopback `loopbackDelay` late unless that is
    negative. The stimulus was played at sample 0. */
inline Capture captureThrough(const Stimulus& stimulus, const Taps& left, const Taps& right,
                              int loopbackDelay = 64)
{
    const auto played = playedSweep(stimulus);
    std::vector<double> microphone(stimulus.totalSamples), reference(stimulus.totalSamples);
    const Taps wire{ { static_cast<std::size_t>(std::max(0, loopbackDelay)), 1.0 } };
    addThrough(microphone, played, stimulus.leftStart, left);
    addThrough(reference, played, stimulus.leftStart, wire);
    if (stimulus.rightStart)
    {
        addThrough(microphone, played, *stimulus.rightStart, right);
        addThrough(reference, played, *stimulus.rightStart, wire);
    }
    Capture capture;
    capture.stimulus = stimulus;
    capture.microphone = rounded(microphone);
    if (loopbackDelay >= 0)
        capture.reference = rounded(reference);
    capture.stimulusStart = 0;
    return capture;
}

/** The formula of the sweep, fades and all, at a time between the samples: an exactly delayed sweep. */
inline std::vector<double> delayedSweep(const Sweep& sweep, double delaySamples, double peak)
{
    auto rise = [](double index, std::size_t count)
    {
        const double part = std::clamp((index + 0.5) / static_cast<double>(count), 0.0, 1.0);
        return 0.5 - 0.5 * std::cos(std::numbers::pi * part);
    };
    std::vector<double> samples(sweep.samples + static_cast<std::size_t>(delaySamples) + 2, 0.0);
    for (std::size_t i = 0; i < samples.size(); ++i)
    {
        const double at = static_cast<double>(i) - delaySamples;
        if (at < 0.0 || at > static_cast<double>(sweep.samples - 1))
            continue;
        const double seconds = at / sweep.sampleRateHz;
        const double turns = sweep.startHz * sweep.rateSeconds * std::exp(seconds / sweep.rateSeconds);
        samples[i] = peak * std::sin(2.0 * std::numbers::pi * turns) * rise(at, sweep.fadeInSamples) *
                     rise(static_cast<double>(sweep.samples - 1) - at, sweep.fadeOutSamples);
    }
    return samples;
}

inline Stimulus shortStimulus(double rate = 48000.0, double seconds = 1.0, double levelDbfs = -20.0)
{
    StimulusSpec spec;
    spec.sampleRateHz = rate;
    spec.seconds = seconds;
    spec.levelDbfs = levelDbfs;
    return designStimulus(spec).value();
}

/** Difference of two phases, within +-180 degrees. */
inline double turnedDeg(double a, double b)
{
    return std::remainder(a - b, 360.0);
}

}
