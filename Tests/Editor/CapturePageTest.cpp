// What could pass here for the wrong reason: an act that is off but still acts, so each is pressed; a reason
// that is said while the act is on, so each state has its contrary.

#include "Editor/CaptureStand.h"

#include <catch2/catch.hpp>

using namespace plumbline;
using namespace plumbline::test::capture;
using Key = juce::KeyPress;

TEST_CASE("A stance that stands here can be taken")
{
    Stand stand(ready(), quiet());
    CHECK(headline(stand) == "Heron 6, upright stands here. Ready.");
    CHECK(stand->words().saying().line.startsWith(
        "Set the monitor selector to Heron 6. Both cabinets: upright."));
    CHECK(beneath(stand) == "The sweep plays at -40 dBFS at the most, 20 Hz" + juce::String::fromUTF8("–") +
                                "20 kHz. Turn the monitors down first.");
    stand->words().act().grabKeyboardFocus();
    CHECK(stand.type(Key::returnKey));
    CHECK(stand.session.asked == std::vector<std::string>{ "startTake" });
    CHECK_FALSE(stand.type(Key::spaceKey));
}

TEST_CASE("Start is off, says why, and does nothing, while something keeps it off")
{
    struct Case
    {
        const char* why;
        std::function<void(LiveState&)> how;
    };

    const std::vector<Case> cases{
        { "The host is not running the audio", [](LiveState& live) { live.sampleRateHz = 0.0; } },
        { "The host is rendering a file", [](LiveState& live) { live.hostIsRendering = true; } },
        { "Nothing is connected to the Return. Give this plugin a side-chain",
          [](LiveState& live) { live.returnConnected = false; } },
    };
    for (const auto& each : cases)
    {
        Stand stand(ready(), quiet());
        REQUIRE(stand->words().act().isEnabled());
        auto live = quiet();
        each.how(live);
        stand.live(live);
        CHECK_FALSE(stand->words().act().isEnabled());
        CHECK(stand->words().act().getButtonText() == "Start");
        CHECK(beneath(stand).startsWith(each.why));
        CHECK(headline(stand) == "Heron 6, upright stands here.");
        stand->words().act().press();
        CHECK(stand.session.asked.empty());
        stand.live(quiet());
        CHECK(stand->words().act().isEnabled());
    }
}

TEST_CASE("Without a stance here the act says where to choose it, and is off")
{
    auto view = ready();
    view.trial.hereNow.clear();
    Stand stand(view, quiet());
    CHECK(headline(stand) == "What stands here?");
    CHECK(stand->words().act().getButtonText() == "Choose what stands here on the board");
    CHECK_FALSE(stand->words().act().isEnabled());
    CHECK(beneath(stand).isNotEmpty());
    CHECK_FALSE(stand->words().lift().isVisible());
    stand->words().act().press();
    CHECK(stand.session.asked.empty());
}

TEST_CASE("Nothing is started before the page of care was read, but for the practice room")
{
    auto view = ready();
    view.careWasRead = false;
    Stand stand(view, quiet());
    CHECK(stand->words().act().getButtonText() == "Read the page of care first");
    stand->words().act().press();
    CHECK(stand.went == std::vector<std::string>{ "care opened" });
    CHECK(stand.session.asked.empty());
    stand.change([](SessionView& changed) { changed.practiceRoom = true; });
    CHECK(stand->words().act().getButtonText() == "Start");
    CHECK(beneath(stand).contains("nothing sounds"));
}

TEST_CASE("The practice room needs no Return")
{
    auto view = ready();
    view.practiceRoom = true;
    auto live = quiet();
    live.returnConnected = false;
    Stand stand(view, live);
    CHECK(stand->words().act().isEnabled());
}

TEST_CASE("A raised level is called raised, with the attend mark")
{
    Stand stand(ready(), quiet());
    CHECK_FALSE(stand->words().beneath().attend);
    stand.change([](SessionView& view) { view.plan.levelDbfs = -20.0; });
    CHECK_FALSE(stand->words().beneath().attend);
    stand.change([](SessionView& view) { view.plan.levelDbfs = -19.0; });
    CHECK(stand->words().beneath().attend);
    CHECK(beneath(stand).startsWith("The sweep plays at -19 dBFS, raised above -20 dBFS."));
}

TEST_CASE("The caption sets the next take, inside its limits")
{
    Stand stand(ready(), quiet());
    CHECK(plain(stand->sentence().reads()) ==
          "Level at the seat, left, then right, sweep 20 Hz" + juce::String::fromUTF8("–") +
              "20 kHz in 3 s at -40 dBFS; from the microphone; the host may start it: no");
    const auto figure = [&](const char* id) -> FigureWord&
    { return static_cast<FigureWord&>(*stand->sentence().word(id)); };
    figure("level").type("0");
    CHECK(stand.session.content.plan.levelDbfs == -6.0);
    CHECK(beneath(stand).startsWith("Held at -6 dBFS"));
    stand.look();
    figure("level").type("-90");
    CHECK(stand.session.content.plan.levelDbfs == -80.0);
    stand.look();
    figure("length").type("31");
    CHECK(stand.session.content.plan.sweepSeconds == 30.0);
    stand.look();
    const auto asked = stand.session.asked.size();
    figure("length").type("long");
    CHECK(stand.session.asked.size() == asked);
    CHECK(beneath(stand).contains("Nothing was changed."));
    CHECK(stand->words().beneath().attend);
    figure("length").type("10");
    CHECK_FALSE(beneath(stand).contains("Nothing was changed."));
}

TEST_CASE("The caption chooses where the take comes from and whether the host may start it")
{
    Stand stand(ready(), quiet());
    const auto choose = [&](const char* id, int row)
    {
        auto& word = static_cast<MenuWord&>(*stand->sentence().word(id));
        word.open();
        REQUIRE(word.menu() != nullptr);
        word.menu()->choose(row);
    };
    choose("source", 1);
    choose("host", 1);
    choose("host", 0);
    CHECK(stand.session.asked ==
          std::vector<std::string>{ "usePracticeRoom yes", "letHostStart yes", "letHostStart no" });
    stand.look();
    CHECK(stand->sentence().reads().contains("from the practice room"));
}

TEST_CASE("Everything on the page is named, large enough, and off the board")
{
    Stand stand(withTakeOf({ { "noise", Fault::Severity::doubt, "A door raised the noise." } }), quiet());
    CHECK(test::namelessOrSmall(*stand).isEmpty());
    const juce::Rectangle<int> board{ 24, 0, 588, 206 };
    for (auto* child : stand->getChildren())
        CHECK_FALSE(child->getBounds().intersects(board));
    CHECK(stand->words().act().getBottom() <= stand->words().getHeight());
}
