// What could pass here for the wrong reason: words that are the same for every trial, so each stands beside
// a trial that differs in one take; takes counted wherever they belong, so the neighbours of a stance are
// looked at too.

#include "Editor/BoardModel.h"

#include <catch2/catch.hpp>

using namespace plumbline;
using enum TakeStroke;

namespace
{

Trial twoPairs()
{
    Trial trial;
    trial.orientations = usualOrientations();
    trial.monitors.emplace_back().name = "Heron 6";
    trial.monitors.emplace_back().name = "Tarn 5";
    return trial;
}

struct Filed
{
    const char* stance;
    int setUp = 1;
    bool doubtful = false;
};

Trial with(Trial trial, std::initializer_list<Filed> takes)
{
    for (const auto& each : takes)
    {
        TakeFiling filing;
        filing.takeId = "take " + std::to_string(trial.takes.size() + 1);
        filing.stance = parseStance(each.stance).value();
        filing.setUpOrdinal = each.setUp;
        filing.doubtful = each.doubtful;
        filing.reason = each.doubtful ? "A door." : "";
        trial = withTake(std::move(trial), filing).value();
    }
    return trial;
}

SessionView viewOf(Trial trial, const std::string& here = {}, int setUp = 1)
{
    SessionView view;
    view.trial.trial = std::make_shared<Trial>(std::move(trial));
    view.trial.hereNow = here;
    view.trial.hereSetUp = setUp;
    return view;
}

BoardCellState first(const SessionView& view)
{
    return boardFrom(view).rows.at(0).cells.at(0);
}

using Strokes = std::vector<TakeStroke>;

std::vector<Strokes> tallyOf(const BoardCellState& cell)
{
    std::vector<Strokes> tally;
    for (const auto& group : cell.groups)
        tally.push_back(group.strokes);
    return tally;
}

const Strokes twoWanted{ wanted, wanted }, twoKept{ kept, kept };

}

TEST_CASE("The board has a row a monitor and a column an orientation of the trial")
{
    auto trial = twoPairs();
    trial.orientations = { "upright", "leaning" };
    const auto board = boardFrom(viewOf(trial));
    REQUIRE(board.columns == std::vector<juce::String>{ "Upright", "Leaning" });
    REQUIRE(board.rows.size() == 2);
    CHECK(board.rows[1].monitor.name == "Tarn 5");
    REQUIRE(board.rows[1].cells.size() == 2);
    CHECK(board.rows[1].cells[1].stance == "Tarn 5, leaning");
    CHECK(board.canName);
}

TEST_CASE("A trial that names no orientation is offered the usual three")
{
    CHECK(boardFrom(viewOf(Trial{})).columns ==
          std::vector<juce::String>{ "Upright", "Side, tweeters out", "Side, tweeters in" });
}

TEST_CASE("Six pairs have a mark of their own, so no seventh is named on the board")
{
    Trial trial;
    for (int i = 0; i < 5; ++i)
        trial.monitors.emplace_back().name = "Pair " + std::to_string(i);
    CHECK(boardFrom(viewOf(trial)).canName);
    trial.monitors.emplace_back().name = "Pair 5";
    CHECK_FALSE(boardFrom(viewOf(trial)).canName);
}

TEST_CASE("Two takes a set-up are wanted, and the first stance of each monitor is stood up twice")
{
    const auto trial = twoPairs();
    for (const auto* monitor : { "Heron 6", "Tarn 5" })
    {
        CHECK(wantedTakes(trial, { monitor, "upright" }) == WantedTakes{ 2, 2 });
        CHECK(wantedTakes(trial, { monitor, "side, tweeters out" }) == WantedTakes{ 1, 2 });
        CHECK(wantedTakes(trial, { monitor, "side, tweeters in" }) == WantedTakes{ 1, 2 });
    }
    const auto board = boardFrom(viewOf(trial));
    CHECK(tallyOf(board.rows[0].cells[0]) == std::vector<Strokes>{ twoWanted, twoWanted });
    CHECK(tallyOf(board.rows[0].cells[1]) == std::vector<Strokes>{ twoWanted });
    CHECK(board.rows[0].cells[0].word == "wanted");
    CHECK(board.rows[0].cells[0].title() == "Heron 6, upright. No set-up yet, 0 of 4 takes.");
}

TEST_CASE("An orientation of the user's own is not asked for until it was stood")
{
    auto trial = twoPairs();
    trial.orientations.push_back("leaning");
    const auto cell = boardFrom(viewOf(trial)).rows[0].cells[3];
    CHECK(cell.word == "not asked");
    CHECK(cell.groups.empty());
    CHECK(cell.title() == "Heron 6, leaning. Not asked.");

    const auto board = boardFrom(viewOf(with(trial, { { "Heron 6, leaning" } })));
    CHECK(board.rows[0].cells[3].word == "open");
    CHECK(tallyOf(board.rows[0].cells[3]) == std::vector<Strokes>{ { kept, wanted } });
    CHECK(board.rows[1].cells[3].word == "not asked");
    CHECK(boardFrom(viewOf(trial, "Tarn 5, leaning")).rows[1].cells[3].word == "wanted");
}

TEST_CASE("A stance is open until all that is wanted of it was taken, and then has no word")
{
    auto trial = with(twoPairs(), { { "Heron 6, upright" } });
    auto cell = first(viewOf(trial));
    CHECK(cell.word == "open");
    CHECK(tallyOf(cell) == std::vector<Strokes>{ { kept, wanted }, twoWanted });
    CHECK_FALSE(cell.enough());

    trial = with(trial, { { "Heron 6, upright" } });
    cell = first(viewOf(trial));
    CHECK(cell.word == "open");
    CHECK(cell.enough());

    trial = with(trial, { { "Heron 6, upright", 2 }, { "Heron 6, upright", 2 } });
    cell = first(viewOf(trial));
    CHECK(cell.word.isEmpty());
    CHECK(tallyOf(cell) == std::vector<Strokes>{ twoKept, twoKept });
    CHECK(cell.title() == "Heron 6, upright. 2 set-ups, 4 of 4 takes.");
    CHECK(boardFrom(viewOf(trial)).rows[0].cells[1].word == "wanted");
    CHECK(boardFrom(viewOf(trial)).rows[1].cells[0].word == "wanted");
}

TEST_CASE("A doubtful take stands struck out until it was taken again")
{
    auto trial = with(twoPairs(), { { "Heron 6, upright" }, { "Heron 6, upright", 1, true } });
    auto cell = first(viewOf(trial));
    CHECK(cell.word == "doubtful");
    CHECK(cell.attend);
    CHECK(tallyOf(cell) == std::vector<Strokes>{ { kept, doubtful }, twoWanted });
    CHECK(cell.title() == "Heron 6, upright. 1 set-up, 1 of 4 takes. 1 doubtful.");

    trial = with(trial, { { "Heron 6, upright" } });
    cell = first(viewOf(trial));
    CHECK(cell.word == "open");
    CHECK_FALSE(cell.attend);
    CHECK(tallyOf(cell) == std::vector<Strokes>{ twoKept, twoWanted });
}

TEST_CASE("Of many doubtful takes as many are shown as takes are missing")
{
    const auto trial = with(twoPairs(), { { "Heron 6, upright", 1, true },
                                          { "Heron 6, upright", 1, true },
                                          { "Heron 6, upright" },
                                          { "Heron 6, upright", 1, true } });
    CHECK(tallyOf(first(viewOf(trial))).front() == Strokes{ kept, doubtful });
}

TEST_CASE("A take that was set aside leaves its place to be taken")
{
    auto trial = with(twoPairs(), { { "Heron 6, upright" }, { "Heron 6, upright" } });
    trial.takes.back().keep = false;
    CHECK(tallyOf(first(viewOf(trial))).front() == Strokes{ kept, wanted });
}

TEST_CASE("Further set-ups and takes than are wanted have their strokes")
{
    const auto trial = with(twoPairs(), { { "Heron 6, side, tweeters out" },
                                          { "Heron 6, side, tweeters out" },
                                          { "Heron 6, side, tweeters out" },
                                          { "Heron 6, side, tweeters out", 3 } });
    const auto cell = boardFrom(viewOf(trial)).rows[0].cells[1];
    CHECK(tallyOf(cell) == std::vector<Strokes>{ { kept, kept, kept }, { kept, wanted } });
    CHECK(cell.title() == "Heron 6, side, tweeters out. 2 set-ups, 4 of 5 takes.");
}

TEST_CASE("What stands here now says so, and a set-up that was just stood up has its group")
{
    const auto trial = with(twoPairs(), { { "Heron 6, upright" }, { "Heron 6, upright" } });
    auto cell = first(viewOf(trial, "Heron 6, upright"));
    CHECK(cell.hereNow);
    CHECK(cell.selected);
    CHECK(cell.foot == "here now");
    CHECK(cell.title() == "Heron 6, upright. 1 set-up, 2 of 4 takes. Here now.");
    CHECK_FALSE(boardFrom(viewOf(trial, "Heron 6, upright")).rows[0].cells[1].hereNow);

    cell = first(viewOf(trial, "Heron 6, upright", 2));
    CHECK(cell.stoodUp == 2);
    CHECK(cell.groups.size() == 2);
    const auto third = with(trial, { { "Heron 6, upright", 2 }, { "Heron 6, upright", 2 } });
    CHECK(first(viewOf(third, "Heron 6, upright", 3)).groups.size() == 3);
    CHECK(first(viewOf(third, "Tarn 5, upright", 3)).groups.size() == 2);
}

TEST_CASE("While a take runs its stance says which one of its set-up it is")
{
    auto view = viewOf(with(twoPairs(), { { "Heron 6, upright" }, { "Heron 6, upright", 1, true } }),
                       "Heron 6, upright");
    view.takeUnderWay = "Heron 6, upright";
    CHECK(first(view).word == "take 3");
    CHECK_FALSE(first(view).attend);
    CHECK(first(view).title() == "Heron 6, upright. 1 set-up, 1 of 4 takes. 1 doubtful. Take 3 is under way. "
                                 "Here now.");
    view.trial.hereSetUp = 2;
    CHECK(first(view).word == "take 1");
    CHECK(boardFrom(view).rows[1].cells[0].word == "wanted");
}

TEST_CASE("On the chart is the stance whose curves are drawn, and no other")
{
    auto view = viewOf(twoPairs(), "Heron 6, upright");
    CHECK_FALSE(first(view).onChart);
    view.trial.curves["Heron 6, upright"].newest = std::make_shared<TakeCurves>();
    view.trial.curves["Tarn 5, upright"].newest = std::make_shared<TakeCurves>();
    CHECK(first(view).onChart);
    CHECK_FALSE(boardFrom(view).rows[1].cells[0].onChart);
}

TEST_CASE("Under a name stands only what is known of the monitor")
{
    Monitor monitor;
    CHECK(knownOf(monitor).isEmpty());
    monitor.heightCm = 33.0;
    CHECK(knownOf(monitor) == juce::String::fromUTF8("33\u00a0cm high"));
    monitor.crossoverHz = 2200.0;
    CHECK(knownOf(monitor) == juce::String::fromUTF8("33\u00a0cm high"));
    monitor.driverSpacingCm = 17.8;
    CHECK(knownOf(monitor) == juce::String::fromUTF8("two-way, 2.2\u00a0kHz"));
    monitor.wooferCm = 15.0;
    CHECK(knownOf(monitor) == juce::String::fromUTF8("15\u00a0cm, two-way"));
    monitor.crossoverHz.reset();
    CHECK(knownOf(monitor) == juce::String::fromUTF8("15\u00a0cm woofer"));
}

TEST_CASE("Names in any script come onto the board unharmed")
{
    Trial trial;
    trial.orientations = { "upright" };
    trial.monitors.emplace_back().name = "F\xc3\xa5ltsp\xc3\xa4r";
    CHECK(
        first(viewOf(trial)).title().startsWith(juce::String::fromUTF8("F\xc3\xa5ltsp\xc3\xa4r, upright.")));
}
