// What could pass here for the wrong reason: notes that are the same whatever the trial holds, so each is seen to change;
// a Stop that acts only when the button comes up again, so the press alone must do; a slide that is there at once.

#include "Editor/Header.h"

#include "Editor/StageNotes.h"
#include "Support/FakeSession.h"
#include "Support/HeadlessDesk.h"

#include <catch2/catch.hpp>

using namespace plumbline;
using Phase = LiveState::Phase;

namespace
{

SessionView viewOf(Trial trial, bool careRead = true)
{
    SessionView view;
    view.trial.trial = std::make_shared<Trial>(std::move(trial));
    view.careWasRead = careRead;
    return view;
}

Trial oneMonitor()
{
    Trial trial;
    trial.name = "Mill Lane Room";
    trial.monitors.emplace_back().name = "Heron 6";
    return trial;
}

/** A header without its window. */
struct Stand
{
    explicit Stand(SessionView view = viewOf(oneMonitor()))
    {
        session.show(std::move(view));
        context.view = session.session();
        header = std::make_unique<Header>(context);
        header->viewChanged();
        desk = std::make_unique<test::HeadlessDesk>(*header);
    }

    void live(const LiveState& now, int frames = 1)
    {
        context.live = now;
        for (int i = 0; i < frames; ++i)
            header->liveChanged();
    }

    int asked(const std::string& command) const
    {
        return static_cast<int>(std::count(session.asked.begin(), session.asked.end(), command));
    }

    juce::ScopedJuceInitialiser_GUI juceRuns;
    test::FakeSession session;
    std::vector<Stage> went;
    int menus = 0, cares = 0;
    WindowContext context{ session,
                           session.session(),
                           {},
                           &darkPalette(),
                           Stage::connect,
                           [this](Stage stage) { went.push_back(stage); },
                           [this](bool) { ++cares; },
                           [this] { ++menus; } };
    std::unique_ptr<Header> header;
    std::unique_ptr<test::HeadlessDesk> desk;
};

LiveState in(Phase phase)
{
    LiveState live;
    live.phase = phase;
    return live;
}

LiveState mustAcknowledge()
{
    auto live = in(Phase::stopped);
    live.mustAcknowledge = true;
    return live;
}

}

TEST_CASE("Connect says where to begin, that it is ready, or that the practice room is on")
{
    CHECK(noteOf(Stage::connect, viewOf({}), {}) == "begin here");
    CHECK(noteOf(Stage::connect, viewOf(oneMonitor()), {}) == "ready");
    CHECK(noteOf(Stage::connect, viewOf(oneMonitor(), false), {}) == "begin here");
    auto practice = viewOf(oneMonitor(), false);
    practice.practiceRoom = true;
    CHECK(noteOf(Stage::connect, practice, {}) == "practice room");
}

TEST_CASE("Capture counts the takes that are kept, and says which one runs")
{
    auto trial = oneMonitor();
    CHECK(noteOf(Stage::capture, viewOf({}), {}) == "after the names");
    CHECK(noteOf(Stage::capture, viewOf(trial), {}) == "nothing yet");
    trial.takes = { { "a", 1, "seat", true, "" } };
    CHECK(noteOf(Stage::capture, viewOf(trial), {}) == "1 take");
    trial.takes.push_back({ "b", 1, "seat", true, "" });
    trial.takes.push_back({ "c", 1, "seat", false, "a door" });
    CHECK(noteOf(Stage::capture, viewOf(trial), {}) == "2 takes");
    CHECK(noteOf(Stage::capture, viewOf(trial), in(Phase::taking)) == "take 3 running");
    CHECK(noteOf(Stage::capture, viewOf(trial), in(Phase::armed)) == "take 3 armed");
}

TEST_CASE("Stages not built yet say that they come later")
{
    for (const auto stage : { Stage::compare, Stage::correct, Stage::check })
        CHECK(noteOf(stage, viewOf(oneMonitor()), {}) == "comes later");
}

TEST_CASE("The window opens where the work goes on")
{
    CHECK(openingStage(viewOf({})) == Stage::connect);
    CHECK(openingStage(viewOf(oneMonitor())) == Stage::capture);
    CHECK(openingStage(viewOf(oneMonitor(), false)) == Stage::connect);
    auto practice = viewOf(oneMonitor(), false);
    practice.practiceRoom = true;
    CHECK(openingStage(practice) == Stage::capture);
}

TEST_CASE("A stage is chosen by a click or by Return, and the arrows move among the five")
{
    Stand stand;
    test::click(stand.header->word(Stage::capture));
    stand.header->word(Stage::check).grabKeyboardFocus();
    stand.desk->type(juce::KeyPress(juce::KeyPress::returnKey));
    CHECK(stand.went == std::vector{ Stage::capture, Stage::check });
    stand.desk->type(juce::KeyPress(juce::KeyPress::leftKey));
    CHECK(stand.header->word(Stage::correct).hasKeyboardFocus(false));
    CHECK_FALSE(stand.desk->type(juce::KeyPress(juce::KeyPress::spaceKey)));
    CHECK(stand.went.size() == 2);
}

TEST_CASE("The trial's name and the page of cautions are opened from the header")
{
    Stand stand;
    test::click(stand.header->trialName());
    stand.header->trialName().grabKeyboardFocus();
    stand.desk->type(juce::KeyPress(juce::KeyPress::returnKey));
    test::click(stand.header->careWord());
    CHECK(stand.menus == 2);
    CHECK(stand.cares == 1);
}

TEST_CASE("A trial without a name is a new one, and a long name is shortened to its place")
{
    auto unnamed = oneMonitor();
    unnamed.name.clear();
    CHECK(Stand(viewOf(unnamed)).header->trialName().shownName() == "A new trial");
    auto longName = oneMonitor();
    longName.name = std::string(120, 'm');
    Stand stand(viewOf(longName));
    const auto& name = stand.header->trialName();
    CHECK(textWidth(name.shownName(), 13.0f, Weight::semibold) <= static_cast<float>(name.getWidth()));
    CHECK(name.shownName().length() > 10);
    CHECK(name.getTitle().contains(juce::String(longName.name)));
}

TEST_CASE("Stop acts when the button goes down, in silence too")
{
    Stand stand;
    auto& slot = stand.header->stopSlot();
    slot.mouseDown(test::press(slot, { 50.0f, 20.0f }));
    CHECK(stand.asked("stop") == 1);
    stand.live(in(Phase::taking));
    slot.mouseDown(test::press(slot, { 50.0f, 20.0f }));
    CHECK(stand.asked("stop") == 2);
    slot.mouseUp(test::press(slot, { 50.0f, 20.0f }));
    CHECK(stand.asked("stop") == 2);
    CHECK(stand.asked("acknowledge") == 0);
}

TEST_CASE("Stop is filled only while something sounds")
{
    Stand stand;
    const auto corner = [&stand]
    {
        const auto slot = stand.header->stopSlot().getBounds().reduced(StopSlot::inset + 5);
        return stand.header->createComponentSnapshot(stand.header->getLocalBounds())
            .getPixelAt(slot.getX(), slot.getY());
    };
    for (const auto phase : { Phase::idle, Phase::armed, Phase::analysing, Phase::stopped })
    {
        stand.live(in(phase));
        CHECK(corner() != darkPalette().attend);
    }
    for (const auto phase : { Phase::taking, Phase::stopping })
    {
        stand.live(in(phase));
        CHECK(corner() == darkPalette().attend);
    }
}

TEST_CASE("After a stop that must be acknowledged the slot lets the mix back, but not at once")
{
    Stand stand;
    auto& slot = stand.header->stopSlot();
    stand.live(mustAcknowledge(), StopSlot::guardedFrames);
    test::click(slot); // meant for Stop
    CHECK(stand.asked("acknowledge") == 0);
    CHECK(stand.asked("stop") == 1);
    stand.live(mustAcknowledge());
    CHECK(slot.getTitle() == "Let the mix back");
    test::click(slot);
    CHECK(stand.asked("acknowledge") == 1);
    CHECK(stand.asked("stop") == 1);
    stand.live(in(Phase::idle));
    CHECK(slot.getTitle() == "Stop");
}

TEST_CASE("A press that began as Stop does not let the mix back")
{
    Stand stand;
    auto& slot = stand.header->stopSlot();
    stand.live(mustAcknowledge());
    slot.mouseDown(test::press(slot, { 50.0f, 20.0f }));
    stand.live(mustAcknowledge(), 2 * StopSlot::guardedFrames);
    slot.mouseUp(test::press(slot, { 50.0f, 20.0f }));
    CHECK(stand.asked("acknowledge") == 0);
}

TEST_CASE("The bob slides to the stage in 120 ms, and not at all with reduced motion")
{
    Stand stand;
    const auto& thread = stand.header->stageThread();
    CHECK(thread.x() == 201.0f);
    stand.context.stage = Stage::capture;
    stand.header->stageChanged(true);
    CHECK(thread.x() < 351.0f);
    CHECK(thread.sliding());
    const_cast<StageThread&>(thread).moveOn(juce::Time::getMillisecondCounterHiRes() + StageThread::slideMs);
    CHECK(thread.x() == 351.0f);
    CHECK_FALSE(thread.sliding());
    auto still = stand.session.content;
    still.appearance.reduceMotion = true;
    stand.session.show(still);
    stand.context.view = stand.session.session();
    stand.context.stage = Stage::check;
    stand.header->stageChanged(true);
    CHECK(thread.x() == 801.0f);
}
