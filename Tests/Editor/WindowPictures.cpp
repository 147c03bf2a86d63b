// Draws the window without a display, as it stands in typical moments:
// plumbline_window_pictures OUTDIR [SCALE]. The curves are real takes in the practice room.

#include "Editor/EditorWindow.h"
#include "Support/FakeSession.h"
#include "Support/SampleTrial.h"
#include "Support/SilentProcessor.h"

#include <iostream>

namespace plumbline::test
{

namespace
{

/** A moment to be drawn. */
struct Scene
{
    std::string name;
    SessionView view;
    LiveState live;
    std::optional<Stage> stage;
    bool care = false, menu = false;
};

bool save(const juce::Image& picture, const juce::File& file)
{
    file.deleteFile();
    juce::FileOutputStream stream(file);
    return stream.openedOk() && juce::PNGImageFormat().writeImageToStream(picture, stream);
}

bool draw(const Scene& scene, const juce::File& folder)
{
    SilentProcessor processor;
    FakeSession session;
    session.now = scene.live;
    session.show(scene.view);
    EditorWindow window(processor, session);
    if (scene.stage)
        window.sheet().header().word(*scene.stage).onPress();
    if (scene.care)
        window.keys().keyPressed(juce::KeyPress(juce::KeyPress::F1Key), &window);
    if (scene.menu)
        window.sheet().header().trialName().onPress();
    for (int frame = 0; frame < 2 * EditorWindow::looksPerSecond; ++frame)
        window.look();
    window.sheet().header().stageChanged(false);
    return save(window.createComponentSnapshot(window.getLocalBounds(), true, 1.0f),
                folder.getChildFile(scene.name + ".png"));
}

LiveState quietRoom()
{
    LiveState live;
    live.sampleRateHz = 48000.0;
    live.returnConnected = true;
    live.microphonePeakDbfs = -62.0f;
    return live;
}

LiveState running(double seconds)
{
    auto live = quietRoom();
    live.phase = LiveState::Phase::taking;
    live.elapsedSeconds = seconds;
    live.microphonePeakDbfs = -33.0f;
    live.loopbackPeakDbfs = -18.0f;
    return live;
}

LiveState silenced()
{
    auto live = quietRoom();
    live.phase = LiveState::Phase::stopped;
    live.mustAcknowledge = true;
    return live;
}

/** Heron 6 upright stands there, nothing taken of it; Tarn 5 is done. */
SessionView millLane(const Scenario& scenario)
{
    SessionView view;
    view.careWasRead = true;
    view.plan.levelDbfs = -18.0;
    view.plan.sweepSeconds = view.times.sweepSeconds;
    view.trial.place = TrialView::Place::folder;
    view.trial.folder = "Plumbline/Mill Lane Room";
    view.trial.trial = std::make_shared<Trial>(withSampleTakes(sampleTrial(scenario), 3, 2));
    view.trial.hereNow = view.trial.trial->stances.front().name();
    view.trialsFolder = "Plumbline";
    view.recentTrials = { "Plumbline/Mill Lane Room", "Plumbline/Old Chapel" };
    return view;
}

/** Two takes of Heron 6 upright, the second doubtful. */
SessionView withResult(SessionView view, const PracticeRoom& room)
{
    view.trial.trial = std::make_shared<Trial>(withSampleTakes(*view.trial.trial, 0, 2, true));
    auto newest = std::make_shared<TakeCurves>(*practiceCurves(room, { 0, 0, 1, 0 }));
    newest->faults.push_back({ "noise", Fault::Severity::doubt, "A door at 6 s raised the noise by 14 dB." });
    view.trial.curves[view.trial.hereNow] = { newest, practiceCurves(room, { 0, 0, 0, 0 }) };
    return view;
}

SessionView overloaded(SessionView view)
{
    view.messages.push_back({ SessionMessage::Concern::take,
                              true,
                              { "overload", "Stopped: the Return overloaded", "",
                                "Lower the microphone's gain, then take again" } });
    return view;
}

SessionView light(SessionView view)
{
    view.appearance.dark = false;
    return view;
}

std::vector<Scene> scenes(int scale)
{
    const auto scenario = readScenario(std::string(PLUMBLINE_PRESETS) + "/practice/three-pairs.json").value();
    const PracticeRoom room(scenario, 48000.0, 1);
    const auto idle = millLane(scenario);
    const auto result = withResult(idle, room);
    SessionView begin;
    auto unnamed = std::make_shared<Trial>();
    unnamed->orientations = usualOrientations();
    begin.trial.trial = unnamed;
    auto underWay = result;
    underWay.takeUnderWay = underWay.trial.hereNow;
    auto large = result;
    large.appearance.scalePercent = 200;
    std::vector<Scene> all{ { "capture", sampleView(scenario, room), quietRoom(), Stage::capture },
                            { "capture-idle", idle, quietRoom(), Stage::capture },
                            { "capture-running", underWay, running(6.6), Stage::capture },
                            { "capture-result", result, quietRoom(), Stage::capture },
                            { "capture-stopped", overloaded(result), silenced(), Stage::capture },
                            { "first-run", begin, quietRoom(), {} },
                            { "connect", idle, quietRoom(), Stage::connect },
                            { "care", idle, quietRoom(), {}, true },
                            { "trial-menu", idle, quietRoom(), {}, false, true },
                            { "compare-later", result, quietRoom(), Stage::compare },
                            { "check-later", result, quietRoom(), Stage::check },
                            { "capture-result-light", light(result), quietRoom(), Stage::capture },
                            { "capture-running-light", light(underWay), running(6.6), Stage::capture } };
    for (auto& scene : all)
        scene.view.appearance.scalePercent = scale;
    all.push_back({ "capture-result-200", large, quietRoom(), Stage::capture });
    return all;
}

}

}

int main(int count, char** arguments)
{
    if (count < 2 || count > 3)
    {
        std::cerr << "usage: plumbline_window_pictures OUTDIR [SCALE in per cent, 100 to 250]\n";
        return 2;
    }
    const juce::ScopedJuceInitialiser_GUI juceRuns;
    const auto folder = juce::File::getCurrentWorkingDirectory().getChildFile(arguments[1]);
    const auto scale = count == 3 ? juce::String(arguments[2]).getIntValue() : 100;
    if (!folder.createDirectory() || scale < 100 || scale > 250)
    {
        std::cerr << "The folder cannot be made, or the scale is not one of 100 to 250.\n";
        return 2;
    }
    for (const auto& scene : plumbline::test::scenes(scale))
        if (!plumbline::test::draw(scene, folder))
        {
            std::cerr << "Could not write " << scene.name << ".png\n";
            return 1;
        }
    return 0;
}
