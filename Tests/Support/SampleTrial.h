#pragma once

#include "Files/ScenarioFile.h"
#include "Measure/TakeAnalysis.h"
#include "Plugin/EditorInterface.h"
#include "PracticeRoom/PracticeRoom.h"

#include <utility>

namespace plumbline::test
{

/** One take in the practice room, at the seat, analysed: real curves for pictures of windows. */
inline std::shared_ptr<const TakeCurves> practiceCurves(const PracticeRoom& room, const TakeLabel& label,
                                                        double levelDbfs = -18.0)
{
    StimulusSpec spec;
    spec.sampleRateHz = room.sampleRateHz();
    spec.seconds = 3.0;
    spec.levelDbfs = levelDbfs;
    const auto stimulus = designStimulus(spec).value();
    const auto sweep = playedSweep(stimulus);
    std::array<std::vector<float>, 2> played;
    for (auto& side : played)
        side.resize(stimulus.totalSamples);
    std::copy(sweep.begin(), sweep.end(),
              played[0].begin() + static_cast<std::ptrdiff_t>(stimulus.leftStart));
    std::copy(sweep.begin(), sweep.end(),
              played[1].begin() + static_cast<std::ptrdiff_t>(*stimulus.rightStart));
    Capture capture{ stimulus, std::vector<float>(stimulus.totalSamples),
                     std::vector<float>(stimulus.totalSamples), 0 };
    auto loop = room.loop(label, false);
    const float* const outputs[] = { played[0].data(), played[1].data() };
    loop.process(outputs, static_cast<int>(stimulus.totalSamples), capture.microphone.data(),
                 capture.reference.data());
    auto analysis = analyseTake(capture, {}).value();
    TakeCurves curves;
    curves.setUp = label.setUp + 1;
    curves.take = label.take + 1;
    curves.takeId = "sample-" + std::to_string(label.stance) + "-" + std::to_string(label.take);
    curves.left = std::move(analysis.left.response);
    curves.right = std::move(analysis.right->response);
    curves.smoothing = "1/12 octave";
    curves.faults = std::move(analysis.faults);
    return std::make_shared<const TakeCurves>(std::move(curves));
}

/** The invented studio's trial, some of its takes done. */
inline Trial sampleTrial(const Scenario& scenario)
{
    Trial trial;
    trial.name = trial.room = "Mill Lane Room";
    trial.orientations = usualOrientations();
    for (const auto& model : scenario.monitors)
    {
        Monitor monitor;
        monitor.name = model.name;
        monitor.widthCm = model.cabinetWidthCm;
        monitor.heightCm = model.cabinetHeightCm;
        monitor.driverSpacingCm = 100.0 * model.driverSpacingM;
        trial.monitors.push_back(monitor);
    }
    for (const auto& stance : scenario.stances)
        trial.stances.push_back(*parseStance(stanceName(stance)));
    return trial;
}

/** Files `takes` takes of that stance, in one set-up. */
inline Trial withSampleTakes(Trial trial, std::size_t stance, int takes, bool lastDoubtful = false)
{
    for (int i = 0; i < takes; ++i)
    {
        TakeFiling filing;
        filing.takeId = "sample-" + std::to_string(stance) + "-" + std::to_string(i);
        filing.stance = trial.stances.at(stance);
        filing.when = "2026-11-06T10:05:00";
        filing.doubtful = lastDoubtful && i + 1 == takes;
        filing.reason = filing.doubtful ? "A door at 12 s raised the noise by 14 dB." : "";
        trial = withTake(std::move(trial), filing).value();
    }
    return trial;
}

/** Heron 6 upright stands there and has two good takes; Tarn 5 upright has two as well. */
inline SessionView sampleView(const Scenario& scenario, const PracticeRoom& room)
{
    SessionView view;
    view.careWasRead = true;
    view.practiceRoom = true;
    view.times.sweepSeconds = view.plan.sweepSeconds;
    view.trial.place = TrialView::Place::folder;
    view.trial.folder = "Plumbline/Mill Lane Room";
    view.trial.trial =
        std::make_shared<Trial>(withSampleTakes(withSampleTakes(sampleTrial(scenario), 3, 2), 0, 2));
    view.trial.hereNow = view.trial.trial->stances.front().name();
    view.trial.curves[view.trial.hereNow] = { practiceCurves(room, { 0, 0, 1, 0 }, view.plan.levelDbfs),
                                              practiceCurves(room, { 0, 0, 0, 0 }, view.plan.levelDbfs) };
    return view;
}

}
