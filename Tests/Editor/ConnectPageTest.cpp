// What could pass here for the wrong reason: steps that are told because nothing asks; a size that reaches
// the session in the wrong unit or on the wrong pair; a drawing that is the same whatever was typed.

#include "Editor/ConnectPage.h"

#include "Editor/PageStand.h"

#include <catch2/catch.hpp>

using namespace plumbline;
using Key = juce::KeyPress;

namespace
{

using Stand = test::PageStand<ConnectPage>;

Monitor called(const char* name)
{
    Monitor monitor;
    monitor.name = name;
    return monitor;
}

SessionView with(std::vector<Monitor> monitors, bool practice = false)
{
    SessionView view;
    auto trial = std::make_shared<Trial>();
    trial->orientations = usualOrientations();
    trial->monitors = std::move(monitors);
    view.trial.trial = trial;
    view.practiceRoom = practice;
    return view;
}

LiveState running(bool returnConnected)
{
    LiveState live;
    live.sampleRateHz = 44100.0;
    live.returnConnected = returnConnected;
    return live;
}

PairEditor& pairs(Stand& stand)
{
    return stand->firstRun().pairs();
}

FigureWord& size(Stand& stand, const char* id)
{
    return static_cast<FigureWord&>(*pairs(stand).sizes().word(id));
}

void typeName(Stand& stand, const juce::String& name)
{
    pairs(stand).entry().setText(name, juce::dontSendNotification);
    stand.type(Key::returnKey);
}

/** A session that files what is described. */
void file(Stand& stand, const Monitor& monitor)
{
    stand.change(
        [&](SessionView& view)
        {
            auto trial = std::make_shared<Trial>(*view.trial.trial);
            trial->monitors.push_back(monitor);
            view.trial.trial = trial;
        });
}

}

TEST_CASE("The first run leads step by step to Capture")
{
    Stand stand(with({}), running(false), 700);
    CHECK(stand->saying().headline == "Where do you begin?");
    stand->act().press();
    CHECK(stand.session.asked == std::vector<std::string>{ "usePracticeRoom yes" });
    stand.look();
    CHECK(stand->saying().headline == "Name the pairs you want to compare.");
    stand->act().press();
    REQUIRE(pairs(stand).entry().isTyping());
    typeName(stand, "Heron 6");
    CHECK(stand.session.asked.back() == "describeMonitor  -> Heron 6");
    file(stand, called("Heron 6"));
    CHECK(stand->saying().headline == "One pair so far. Is there a second?");
    file(stand, called("Tarn 5"));
    CHECK(stand->saying().headline == "Two pairs so far. Is there a third?");
    CHECK(stand->act().getButtonText() == "Two are enough");
    stand->act().press();
    CHECK(stand->saying().headline ==
          "All is told. Now the first take."); // the page of care can wait in here
    CHECK(stand->saying().line.contains("nothing sounds"));
    stand->act().press();
    CHECK(stand.went == std::vector<std::string>{ "stage 1" });
}

TEST_CASE("With a microphone the page of care comes before the first take")
{
    Stand stand(with({ called("Heron 6") }), running(false), 700);
    stand->firstRun().whereSwitch().choose(1);
    CHECK(stand.session.asked == std::vector<std::string>{ "usePracticeRoom no" });
    stand.look();
    stand->act().press(); // one is enough
    CHECK(stand->saying().headline == "One page before anything sounds.");
    stand->act().press();
    CHECK(stand.went == std::vector<std::string>{ "care opened" });
    stand.change([](SessionView& view) { view.careWasRead = true; });
    CHECK(stand->saying().headline == "All is told. Now the first take.");
    CHECK(stand->saying().line.contains("Nothing is connected to the Return. Give this plugin a side-chain"));
    stand.live(running(true));
    CHECK(stand->saying().line.contains("The Return is connected."));
    CHECK(stand->saying().line.contains("44.1"));
    CHECK_FALSE(stand->saying().line.contains("Nothing is connected"));
    stand.live({});
    CHECK(stand->saying().line.contains("The host is not running the audio."));
}

TEST_CASE("Each step says how it stands")
{
    Stand stand(with({ called("Heron 6") }, true), running(false), 700);
    const auto states = [&]
    {
        const auto steps = stand->steps();
        return steps.stateOf(FirstSteps::where) + " " + steps.stateOf(FirstSteps::pairs) + " " +
               steps.stateOf(FirstSteps::care) + " " + steps.stateOf(FirstSteps::firstTake);
    };
    CHECK(states() == "told now to read then");
    stand->act().press();
    CHECK(states() == "told told to read now");
    stand.change([](SessionView& view) { view.practiceRoom = false; });
    CHECK(stand->steps().next() == FirstSteps::where); // nothing tells it any more
    stand.change(
        [](SessionView& view)
        {
            view.careWasRead = true;
            auto trial = std::make_shared<Trial>(*view.trial.trial);
            trial->takes.emplace_back();
            view.trial.trial = trial;
        });
    CHECK(states() == "told told read taken");
    CHECK(stand->saying().headline == "Ready for more takes.");
}

TEST_CASE("Sizes are typed for the pair that is shown, in its own units")
{
    Stand stand(with({ called("Heron 6"), called("Tarn 5") }, true), running(false), 700);
    pairs(stand).show("Tarn 5");
    REQUIRE(pairs(stand).shown()->name == "Tarn 5");
    CHECK(pairs(stand).shownRow() == 1);
    size(stand, "height").type("27 cm");
    size(stand, "crossover").type("2700 Hz");
    REQUIRE(stand.ears.described.size() == 2);
    CHECK(stand.ears.described[0].name == "Tarn 5");
    CHECK(stand.ears.described[0].heightCm == 27.0);
    CHECK(*stand.ears.described[1].crossoverHz == Approx(2700.0));
    size(stand, "width").type("1");
    CHECK(stand.ears.described[2].widthCm == 5.0);
    CHECK(stand->remark().startsWith("Held at"));
}

TEST_CASE("A size that is no figure is refused beside the act, and nothing is described")
{
    Stand stand(with({ called("Heron 6") }, true), running(false), 700);
    size(stand, "height").type("tall");
    CHECK(stand->remark().contains("Nothing was changed."));
    CHECK(stand.ears.described.empty());
    size(stand, "height").type("33");
    CHECK(stand->remark().isEmpty());
    REQUIRE(stand.ears.described.size() == 1);
    CHECK(stand.ears.described.front().heightCm == 33.0);
}

TEST_CASE("A size is forgotten when nothing is typed for it")
{
    auto heron = called("Heron 6");
    heron.depthCm = 25.0;
    Stand stand(with({ heron }, true), running(false), 700);
    size(stand, "depth").type("");
    REQUIRE(stand.ears.described.size() == 1);
    CHECK_FALSE(stand.ears.described.front().depthCm.has_value());
}

TEST_CASE("A pair can be a single monitor")
{
    Stand stand(with({ called("Heron 6") }, true), running(false), 700);
    auto& kind = static_cast<MenuWord&>(*pairs(stand).sizes().word("kind"));
    kind.open();
    kind.menu()->choose(1);
    REQUIRE(stand.ears.described.size() == 1);
    CHECK(stand.ears.described.front().kind == Monitor::Kind::single);
}

TEST_CASE("A renamed pair keeps its sizes and tells its former name")
{
    auto heron = called("Heron 6");
    heron.heightCm = 33.0;
    Stand stand(with({ heron }, true), running(false), 700);
    pairs(stand).renameLink().press();
    typeName(stand, "Heron 6 B");
    CHECK(stand.session.asked == std::vector<std::string>{ "describeMonitor Heron 6 -> Heron 6 B" });
    CHECK(stand.ears.described.front().heightCm == 33.0);
}

TEST_CASE("Names that the board cannot hold are refused in words")
{
    Stand stand(with({ called("Heron 6"), called("Tarn 5") }, true), running(false), 700);
    for (const auto* name : { "Tarn 5", "Heron, the sixth", "[6]" })
    {
        INFO(name);
        pairs(stand).addLink().press();
        typeName(stand, name);
        CHECK(stand->remark().contains("Nothing was changed."));
    }
    pairs(stand).addLink().press();
    typeName(stand, "   "); // nothing typed: as if abandoned
    CHECK(stand.ears.described.empty());
    pairs(stand).addLink().press();
    typeName(stand, "Osier 8");
    CHECK(stand.session.asked == std::vector<std::string>{ "describeMonitor  -> Osier 8" });
}

TEST_CASE("What is typed is drawn")
{
    Stand stand(with({ called("Heron 6") }, true), running(false), 700);
    const auto drawn = [&]
    {
        auto picture = stand->createComponentSnapshot({ 604, 270, 320, 230 }, true, 1.0f);
        juce::MemoryOutputStream bytes;
        juce::PNGImageFormat().writeImageToStream(picture, bytes);
        return bytes.getMemoryBlock();
    };
    const auto unknown = drawn();
    CHECK(drawn() == unknown);
    stand.change(
        [](SessionView& view)
        {
            auto trial = std::make_shared<Trial>(*view.trial.trial);
            trial->monitors.front().heightCm = 33.0;
            trial->monitors.front().widthCm = 21.0;
            view.trial.trial = trial;
        });
    CHECK(drawn() != unknown);
}

TEST_CASE("Nothing of Connect lies outside it, over the board, or without a name, with strip and without")
{
    for (const int height : { 636, 700 })
    {
        Stand stand(with({ called("Heron 6") }), running(true), height);
        CHECK(test::namelessOrSmall(*stand).isEmpty());
        const juce::Rectangle<int> board{ 24, 0, 588, 206 };
        for (auto* child : stand->getChildren())
            if (child->isVisible())
            {
                CHECK(stand->getLocalBounds().contains(child->getBounds()));
                CHECK_FALSE(child->getBounds().intersects(board));
            }
    }
}
