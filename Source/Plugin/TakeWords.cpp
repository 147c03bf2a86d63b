#include "Plugin/TakeWords.h"

#include "Plugin/AnalysisWorker.h"

#include <algorithm>

namespace plumbline
{

namespace
{
bool isDoubt(const Fault& fault)
{
    return fault.severity == Fault::Severity::doubt;
}
}

std::string smoothingInWords(OctaveFraction smoothing)
{
    return smoothing.none() ? "no smoothing" : "1/" + std::to_string(smoothing.perOctave) + " octave";
}

TakeTimes timesOf(const StimulusSpec& spec)
{
    TakeTimes times;
    times.pair = spec.pair;
    const auto stimulus = designStimulus(spec);
    if (!stimulus)
        return { 0.0, 0.0, 0.0, spec.pair, 0.0 };
    const double rate = spec.sampleRateHz;
    times.quietSeconds = static_cast<double>(stimulus->leadInSamples) / rate;
    times.sweepSeconds = static_cast<double>(stimulus->sweep.samples) / rate;
    const double silence = static_cast<double>(stimulus->silenceSamples) / rate;
    times.restSeconds = spec.pair ? silence : silence + latencyAllowanceSeconds;
    times.tailSeconds = silence + latencyAllowanceSeconds;
    return times;
}

TakeCurves curvesOf(const TakeAnalysis& analysis)
{
    TakeCurves curves;
    curves.left = analysis.left.response;
    if (analysis.right)
        curves.right = analysis.right->response;
    curves.levelIsSpl = analysis.settings.microphone.sensitivityDbSpl.has_value();
    curves.smoothing = smoothingInWords(analysis.settings.smoothing);
    curves.faults = analysis.faults;
    return curves;
}

TakeCurves curvesOf(StoredAnalysis stored)
{
    TakeCurves curves;
    curves.left = std::move(stored.left);
    curves.right = std::move(stored.right);
    curves.levelIsSpl = stored.levelIsSpl;
    // The file's words go on to name the method; the window needs the width alone.
    curves.smoothing = stored.smoothing == "none" ? smoothingInWords(OctaveFraction{ 0 })
                                                  : stored.smoothing.substr(0, stored.smoothing.find(','));
    curves.faults = std::move(stored.faults);
    return curves;
}

std::string doubtsOf(const std::vector<Fault>& faults)
{
    std::string words;
    for (const auto& fault : faults)
        if (isDoubt(fault))
            words += (words.empty() ? "" : " ") + fault.words;
    return words;
}

}
