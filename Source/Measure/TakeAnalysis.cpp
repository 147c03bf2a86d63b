#include "Measure/TakeAnalysis.h"

#include "Measure/CaptureFaults.h"
#include "Measure/Location.h"
#include "Measure/SideAnalyser.h"

#include <algorithm>

namespace plumbline
{

namespace
{

void noteFault(std::vector<Fault>& faults, const char* code, Fault::Severity severity, const char* words)
{
    faults.push_back({ code, severity, words });
}

std::vector<Fault> faultsOf(const Capture& capture, const CaptureExtent& extent,
                            const AnalysisSettings& settings, const Placement& placement, bool noiseKnown)
{
    using enum Fault::Severity;
    auto faults = doubts(capture, extent);
    if (!noiseKnown)
        noteFault(faults, "no-lead-in", doubt,
                  "There is no silence before the left sweep: the noise is not known, and nothing is masked "
                  "for it.");
    if (capture.reference.empty())
        noteFault(faults, "no-reference", note,
                  placement.timeBaseKnown
                      ? "No loopback channel: the interface's own response is in the curves, and its latency "
                        "in the "
                        "travel times."
                      : "No loopback channel: the interface's own response is in the curves, and the right's "
                        "travel time is told against the left's.");
    if (placement.referenceLeftOnly)
        noteFault(faults, "reference-left-only", note,
                  "The loopback carries the left alone: the interface's response on the left serves the "
                  "right too.");
    const auto end = placement.stimulusStart + static_cast<std::ptrdiff_t>(capture.stimulus.totalSamples);
    const double missing = static_cast<double>(end - static_cast<std::ptrdiff_t>(capture.microphone.size()));
    if (missing > 0.05 * capture.stimulus.spec.sampleRateHz)
        noteFault(faults, "tail-cut", doubt,
                  "The recording ends within the last tail: the lowest notes may be wrong.");
    const auto band = capture.stimulus.spec.band;
    const auto& calibration = settings.microphone.calibration;
    if (calibration && (calibration->lowestHz() > band.fromHz || calibration->highestHz() < band.toHz))
        noteFault(faults, "calibration-narrow", note,
                  "The calibration does not reach over the whole band: its end values are held beyond it.");
    return faults;
}

void noteUnheard(TakeAnalysis& analysis)
{
    if (!analysis.left.heard())
        noteFault(analysis.faults, "left-not-heard", Fault::Severity::doubt,
                  "The left side was not heard over the noise: check its monitor and its cable.");
    if (analysis.right && !analysis.right->heard())
        noteFault(analysis.faults, "right-not-heard", Fault::Severity::doubt,
                  "The right side was not heard over the noise: check its monitor and its cable.");
}

void noteDisturbed(TakeAnalysis& analysis)
{
    if (analysis.left.disturbed)
        noteFault(analysis.faults, "left-disturbed", Fault::Severity::doubt,
                  "A noise disturbed the left sweep: take it again.");
    if (analysis.right && analysis.right->disturbed)
        noteFault(analysis.faults, "right-disturbed", Fault::Severity::doubt,
                  "A noise disturbed the right sweep: take it again.");
}

/** Without a time base only the difference of the sides is true: the left's own time becomes 0. */
void tellAgainstLeft(TakeAnalysis& analysis)
{
    auto& left = analysis.left.travelTimeSeconds;
    if (analysis.right)
    {
        auto& right = analysis.right->travelTimeSeconds;
        right = left && right ? std::optional(*right - *left) : std::nullopt;
    }
    if (left)
        left = 0.0;
}

}

bool TakeAnalysis::doubtful() const noexcept
{
    return std::any_of(faults.begin(), faults.end(),
                       [](const Fault& f) { return f.severity == Fault::Severity::doubt; });
}

std::vector<std::size_t> transformLengths(const Stimulus& stimulus)
{
    return { SideAnalyser::usualLength(stimulus),
             SideAnalyser::leastGatedLength(stimulus.spec.sampleRateHz) };
}

Result<TakeAnalysis> analyseTake(const Capture& capture, const AnalysisSettings& settings)
{
    const CaptureExtent extent(capture);
    if (auto reason = uselessness(capture, extent))
        return *reason;
    const auto placement = place(capture);
    if (!placement)
        return placement.problem();
    SideAnalyser analyser(capture, settings, *placement);
    TakeAnalysis analysis;
    analysis.sampleRateHz = capture.stimulus.spec.sampleRateHz;
    analysis.settings = settings;
    analysis.timeBaseKnown = placement->timeBaseKnown;
    analysis.faults = faultsOf(capture, extent, settings, *placement, analyser.noiseKnown());
    auto left = analyser.analyse(Side::left);
    if (!left)
        return left.problem();
    analysis.left = std::move(*left);
    if (capture.stimulus.rightStart)
    {
        auto right = analyser.analyse(Side::right);
        if (!right)
            return right.problem();
        analysis.right = std::move(*right);
    }
    noteUnheard(analysis);
    noteDisturbed(analysis);
    if (!placement->timeBaseKnown)
        tellAgainstLeft(analysis);
    return analysis;
}

}
