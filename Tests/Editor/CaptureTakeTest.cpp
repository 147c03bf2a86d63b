// What could pass here for the wrong reason: words that are the same in each phase; faults that are drawn
// nowhere, so what is not shown must be behind a link; a message that is gone before it was put away.

#include "Editor/CaptureStand.h"

#include <catch2/catch.hpp>

using namespace plumbline;
using namespace plumbline::test::capture;
using Key = juce::KeyPress;
using Phase = LiveState::Phase;

TEST_CASE("While a take runs its part and the seconds left are read from two metres")
{
    auto view = ready(); // quiet 1, left 3, rest 1, right 3, tail 1
    view.times.sweepSeconds = 3.0;
    view.takeUnderWay = view.trial.hereNow;
    Stand stand(view, in(Phase::taking, 0.2));
    const auto at = [&](double seconds)
    {
        stand.live(in(Phase::taking, seconds));
        return headline(stand).replace(juce::String::fromUTF8("·"), "|");
    };
    CHECK(stand->words().saying().fromTwoMetres);
    CHECK(at(0.2) == "QUIET | 9 s");
    CHECK(at(1.0) == "LEFT | 8 s");
    CHECK(at(4.5) == "REST | 5 s");
    CHECK(at(5.1) == "RIGHT | 4 s");
    CHECK(at(8.4) == "TAIL | 1 s");
    CHECK(at(20.0) == "TAIL | 0 s");
    CHECK(stand->words().saying().line == "Heron 6, upright: take 1. Keep still and quiet.");
    CHECK_FALSE(stand->words().act().isVisible());
}

TEST_CASE("A single monitor has one sweep")
{
    auto view = ready();
    view.times.pair = false;
    Stand stand(view, in(Phase::taking, 2.0));
    CHECK(headline(stand).startsWith("SWEEP"));
    stand.live(in(Phase::taking, 4.5));
    CHECK(headline(stand).startsWith("TAIL"));
}

TEST_CASE("Each phase is named, and offers no start")
{
    const std::vector<std::pair<Phase, const char*>> names{ { Phase::preparing, "Getting the sweep ready." },
                                                            { Phase::armed, "Armed: the host may start it." },
                                                            { Phase::stopping, "Stopping." },
                                                            { Phase::analysing, "Looking at the take." } };
    Stand stand(ready(), quiet());
    for (const auto& [phase, name] : names)
    {
        stand.live(in(phase));
        CHECK(headline(stand) == name);
        CHECK_FALSE(stand->words().act().isVisible());
        stand->words().act().press();
    }
    CHECK(stand.session.asked == std::vector<std::string>(0)); // a hidden act is pressed by nobody else
}

TEST_CASE("A stop that must be acknowledged offers that, and only that")
{
    auto live = in(Phase::stopped);
    live.mustAcknowledge = true;
    Stand stand(withTakeOf({}), live);
    CHECK(headline(stand) == "Stopped. The output is silent.");
    CHECK_FALSE(stand->words().lift().isVisible());
    CHECK_FALSE(stand->takeSummary().againLink().isVisible());
    stand->words().act().press();
    CHECK(stand.session.asked == std::vector<std::string>{ "acknowledge" });
}

TEST_CASE("After a take it is called good or doubtful, and can be taken again or re-stood")
{
    Stand stand(withTakeOf({ { "no-reference", Fault::Severity::note, "No loopback channel." } }), quiet());
    CHECK(headline(stand) == "Take 2: good.");
    CHECK(stand->takeSummary().head() == "Take 2: good");
    CHECK(plain(stand->takeSummary().facts()).startsWith("Known from 4"));
    stand->takeSummary().againLink().press();
    stand->words().lift().press();
    CHECK(stand.session.asked == std::vector<std::string>{ "startTake", "standAgain" });
    stand.change(
        [](SessionView& view)
        {
            view.trial.curves["Heron 6, upright"].newest =
                taken(3, { { "noise", Fault::Severity::doubt, "A door raised the noise." } });
        });
    CHECK(headline(stand) == "Take 3: doubtful.");
    CHECK(stand->takeSummary().head() == "Take 3: doubtful");
    CHECK(stand->words().faults().isVisible());
}

TEST_CASE("A take of an earlier set-up says nothing of the one that stands here")
{
    auto view = withTakeOf({});
    view.trial.hereSetUp = 2;
    Stand stand(view, quiet());
    CHECK(headline(stand) == "Heron 6, upright stands here. Ready.");
    CHECK(stand->takeSummary().head().isEmpty());
    CHECK_FALSE(stand->words().lift().isVisible());
}

TEST_CASE("Faults that do not fit are behind a link that opens all of them")
{
    std::vector<Fault> faults;
    for (int i = 0; i < 6; ++i)
        faults.push_back(
            { "f", i == 5 ? Fault::Severity::doubt : Fault::Severity::note,
              "Fault " + std::to_string(i) + ", told in a sentence that is long enough to need the line." });
    Stand stand(withTakeOf(faults), quiet());
    auto& list = stand->words().faults();
    CHECK(list.shownHere() < faults.size());
    REQUIRE(list.allLink().isVisible());
    CHECK(list.allLink().getButtonText() == "All 6 remarks");
    list.allLink().press();
    REQUIRE(list.panel() != nullptr);
    CHECK(list.panel()->getTitle().startsWith("Fault 5")); // doubts first
    for (const auto& fault : faults)
        CHECK(list.panel()->getTitle().contains(juce::String(fault.words)));
    CHECK(stand.type(Key::escapeKey));
    CHECK(list.panel() == nullptr);
    stand.change(
        [](SessionView& view) {
            view.trial.curves["Heron 6, upright"].newest =
                taken(3, { { "f", Fault::Severity::doubt, "One." } });
        });
    CHECK_FALSE(list.allLink().isVisible());
    CHECK(list.shownHere() == 1);
}

TEST_CASE("Messages about the take and the sound stand beside the act until they are put away")
{
    auto view = withTakeOf({ { "noise", Fault::Severity::doubt, "A door raised the noise." } });
    const auto message = [](SessionMessage::Concern concern, bool attend, const char* code) {
        return SessionMessage{ concern,
                               attend,
                               { code, "Stopped: " + std::string(code), "", "Do something" } };
    };
    view.messages = { message(SessionMessage::Concern::trial, true, "folder"),
                      message(SessionMessage::Concern::sound, false, "guard"),
                      message(SessionMessage::Concern::take, true, "overload") };
    Stand stand(view, quiet());
    auto& plate = stand->words().plate();
    REQUIRE(plate.isVisible());
    CHECK(plate.getTitle() == "Stopped: overload. Do something.");
    CHECK(plate.link().getButtonText() == "Put it away; 1 more");
    CHECK_FALSE(stand->words().faults().isVisible());
    plate.link().press();
    CHECK(stand.session.asked == std::vector<std::string>{ "dismiss overload" });
    stand.change([](SessionView& changed) { changed.messages.resize(1); });
    CHECK_FALSE(plate.isVisible()); // the trial's message is said by its name
    CHECK(stand->words().faults().isVisible());
}
