// What could pass here for the wrong reason: a cell that commands something whatever is pressed, so each
// command is looked for where it must not come as well; a picture that holds a monitor's colour anywhere,
// so it is looked for in one cell and missed in the next; keys that are swallowed, so keys that are not the
// board's must pass.

#include "Editor/Board.h"

#include "Editor/PageStand.h"

#include <catch2/catch.hpp>

using namespace plumbline;
using Key = juce::KeyPress;

namespace
{

Trial trialOf(int pairs)
{
    const char* const names[] = { "Heron 6", "Tarn 5", "Osier 8", "Heron 7", "Tarn 8", "Osier 5" };
    Trial trial;
    trial.orientations = usualOrientations();
    for (int i = 0; i < pairs; ++i)
        trial.monitors.emplace_back().name = names[i];
    return trial;
}

Trial withTakes(Trial trial, const std::string& stance, int takes)
{
    for (int i = 0; i < takes; ++i)
    {
        TakeFiling filing;
        filing.takeId = stance + std::to_string(i);
        filing.stance = parseStance(stance).value();
        trial = withTake(std::move(trial), filing).value();
    }
    return trial;
}

SessionView viewOf(Trial trial, const std::string& here = {})
{
    SessionView view;
    view.trial.trial = std::make_shared<Trial>(std::move(trial));
    view.trial.hereNow = here;
    return view;
}

LiveState taking()
{
    LiveState live;
    live.phase = LiveState::Phase::taking;
    return live;
}

using Stand = test::PageStand<Board>;

void press(BoardCell& cell)
{
    cell.keyPressed(Key(Key::returnKey));
}

std::string focused()
{
    const auto* part = juce::Component::getCurrentlyFocusedComponent();
    return part != nullptr ? part->getTitle().upToFirstOccurrenceOf(".", false, false).toStdString()
                           : "nothing";
}

void monitorNamed(SessionView& view, const char* name)
{
    auto trial = *view.trial.trial;
    trial.monitors.emplace_back().name = name;
    view.trial.trial = std::make_shared<Trial>(std::move(trial));
}

/** Pixels of about that colour in an area of the board. */
int countOf(Stand& stand, juce::Colour colour, juce::Rectangle<int> area)
{
    const auto picture = stand->createComponentSnapshot(area, true, 1.0f);
    int count = 0;
    for (int y = 0; y < picture.getHeight(); ++y)
        for (int x = 0; x < picture.getWidth(); ++x)
        {
            const auto pixel = picture.getPixelAt(x, y);
            count += std::abs(pixel.getRed() - colour.getRed()) < 12 &&
                     std::abs(pixel.getGreen() - colour.getGreen()) < 12 &&
                     std::abs(pixel.getBlue() - colour.getBlue()) < 12 && pixel.getAlpha() > 240;
        }
    return count;
}

/** Something that can have the keyboard before and after the board. */
struct Surrounded final : Part
{
    struct Stop final : Component
    {
        explicit Stop(const char* name)
        {
            setTitle(name);
            setWantsKeyboardFocus(true);
        }
    };

    explicit Surrounded(WindowContext& windowContext) : Part(windowContext), board(windowContext)
    {
        setFocusContainerType(FocusContainerType::keyboardFocusContainer);
        for (auto* each : std::initializer_list<juce::Component*>{ &before, &board, &after })
            addAndMakeVisible(each);
        before.setBounds(0, 0, 30, 30);
        board.setBounds(24, 60, 588, 206);
        after.setBounds(0, 400, 30, 30);
    }

    Stop before{ "before" }, after{ "after" };
    Board board;
};

}

TEST_CASE("A click on a cell says that its stance stands here")
{
    Stand stand(viewOf(trialOf(2)));
    auto& cell = stand->cell(1, 2);
    REQUIRE(stand->getComponentAt(cell.getBounds().getCentre()) == &cell);
    test::click(cell);
    CHECK(stand.session.asked == std::vector<std::string>{ "standHere Tarn 5, side, tweeters in" });
}

TEST_CASE("Return on a cell does as a click, and the stance that stands here offers nothing new")
{
    Stand stand(viewOf(trialOf(2)));
    press(stand->cell(0, 1));
    CHECK(stand.wasAsked("standHere Heron 6, side, tweeters out"));
    stand.look();
    CHECK(stand->cell(0, 1).state().hereNow);
    stand.session.asked.clear();
    press(stand->cell(0, 1));
    CHECK(stand.session.asked.empty());
    press(stand->cell(0, 0));
    CHECK(stand.session.asked.size() == 1);
}

TEST_CASE("While a take sounds no other stance can be chosen and nothing named")
{
    Stand stand(viewOf(trialOf(2)));
    stand.live(taking());
    press(stand->cell(1, 0));
    test::click(stand->cell(0, 1));
    stand->beginNaming(2);
    CHECK(stand.session.asked.empty());
    CHECK_FALSE(stand->entry().isTyping());
    CHECK(stand->cell(1, 0).getHelpText().isNotEmpty());
    stand.live({});
    press(stand->cell(1, 0));
    CHECK(stand.wasAsked("standHere Tarn 5, upright"));
    CHECK(stand->cell(1, 0).getHelpText().isEmpty());
}

TEST_CASE("Arrows move the keyboard within the board and stop at its edges")
{
    Stand stand(viewOf(trialOf(2)));
    stand->cell(0, 0).grabKeyboardFocus();
    CHECK(stand.type(Key::rightKey));
    CHECK(focused() == "Heron 6, side, tweeters out");
    CHECK(stand.type(Key::downKey));
    CHECK(focused() == "Tarn 5, side, tweeters out");
    stand.type(Key::downKey);
    CHECK(focused() == "Name a pair");
    stand.type(Key::downKey);
    CHECK(focused() == "Name a pair");
    stand.type(Key::upKey);
    CHECK(focused() == "Tarn 5, side, tweeters out");
    stand.type(Key::leftKey);
    stand.type(Key::leftKey);
    CHECK(focused() == "Tarn 5, upright");
}

TEST_CASE("Space and Escape are not the board's")
{
    Stand stand(viewOf(trialOf(2)));
    stand->cell(0, 0).grabKeyboardFocus();
    CHECK_FALSE(stand.type(Key::spaceKey));
    CHECK_FALSE(stand.type(Key::escapeKey));
    CHECK(stand.session.asked.empty());
}

TEST_CASE("Tab leaves the board at once, and comes back to where the keyboard was")
{
    test::PageStand<Surrounded> stand(viewOf(trialOf(3)));
    stand->board.cell(1, 1).grabKeyboardFocus();
    stand.type(Key::tabKey);
    CHECK(focused() == "after");
    stand.desk->type(Key(Key::tabKey, juce::ModifierKeys::shiftModifier, 0));
    CHECK(focused() == "Tarn 5, side, tweeters out");
    stand.desk->type(Key(Key::tabKey, juce::ModifierKeys::shiftModifier, 0));
    CHECK(focused() == "before");
    stand.type(Key::tabKey);
    CHECK(focused() == "Tarn 5, side, tweeters out");
}

TEST_CASE("A pair is named on the board: Return accepts")
{
    Stand stand(viewOf(trialOf(1)));
    stand->name(1).keyPressed(Key(Key::returnKey));
    REQUIRE(stand->entry().isTyping());
    stand->entry().setText(" Tarn 5 ", juce::dontSendNotification);
    stand.type(Key::returnKey);
    CHECK(stand.session.asked == std::vector<std::string>{ "describeMonitor  -> Tarn 5" });
    CHECK(stand.ears.described.back() ==
          []
          {
              Monitor tarn;
              tarn.name = "Tarn 5";
              return tarn;
          }());
    CHECK(focused() == "Name a pair");
    stand.change([](SessionView& view) { monitorNamed(view, "Tarn 5"); });
    CHECK(stand->rows() == 3);
    CHECK(focused() == "Name a pair");
    CHECK(stand->name(2).hasKeyboardFocus(false));
}

TEST_CASE("Escape leaves the naming and nothing is asked")
{
    Stand stand(viewOf(trialOf(1)));
    stand->name(1).keyPressed(Key(Key::returnKey));
    stand->entry().setText("Tarn 5", juce::dontSendNotification);
    CHECK(stand.type(Key::escapeKey));
    CHECK_FALSE(stand->entry().isTyping());
    CHECK(stand.session.asked.empty());
    CHECK(focused() == "Name a pair");
}

TEST_CASE("F2 renames the pair of the cell that has the keyboard, and its sizes stay")
{
    auto trial = trialOf(2);
    trial.monitors[1].heightCm = 27.0;
    Stand stand(viewOf(trial));
    stand->cell(1, 1).grabKeyboardFocus();
    CHECK(stand.type(Key::F2Key));
    REQUIRE(stand->entry().isTyping());
    CHECK(stand->entry().getText() == "Tarn 5");
    stand->entry().setText("Tarn 5 B", juce::dontSendNotification);
    stand.type(Key::returnKey);
    CHECK(stand.session.asked == std::vector<std::string>{ "describeMonitor Tarn 5 -> Tarn 5 B" });
    CHECK(stand.ears.described.back().heightCm == 27.0);
    CHECK(focused() == "Tarn 5, side, tweeters out");
}

TEST_CASE("A name that cannot be is refused beside the board until the next is typed")
{
    Stand stand(viewOf(trialOf(2)));
    stand->beginNaming(2);
    stand->entry().setText("Heron 6", juce::dontSendNotification);
    stand.type(Key::returnKey);
    CHECK(stand.session.asked.empty());
    CHECK(stand->remark().contains("Heron 6 is on the board already"));
    const auto said = countOf(stand, darkPalette().attend, { 104, 184, 400, 22 });
    CHECK(said > 20);
    stand->beginNaming(2);
    CHECK(stand->remark().isEmpty());
    CHECK(countOf(stand, darkPalette().attend, { 104, 184, 400, 22 }) == 0);
}

TEST_CASE("A name that was left as it was asks for nothing")
{
    Stand stand(viewOf(trialOf(2)));
    stand->beginNaming(0);
    stand.type(Key::returnKey);
    CHECK(stand.session.asked.empty());
    CHECK(stand->remark().isEmpty());
}

TEST_CASE("More than three rows scroll: by the keyboard, by the wheel, by the words that say so")
{
    Stand stand(viewOf(trialOf(6)));
    CHECK(stand->rows() == 6);
    CHECK_FALSE(stand->cell(3, 0).isVisible());
    CHECK(stand->moreLink().getButtonText() == "More: 3 rows below");
    stand->cell(2, 0).grabKeyboardFocus();
    stand.type(Key::downKey);
    CHECK(focused() == "Heron 7, upright");
    CHECK(stand->cell(3, 0).isVisible());
    CHECK_FALSE(stand->cell(0, 0).isVisible());
    CHECK(stand->moreLink().getButtonText() == "More: 1 row above, 2 rows below");

    juce::MouseWheelDetails wheel{};
    wheel.deltaY = -10.0f;
    stand->mouseWheelMove(test::press(*stand, { 200.0f, 80.0f }), wheel);
    CHECK(stand->cell(5, 0).isVisible());
    CHECK_FALSE(stand->cell(2, 0).isVisible());
    CHECK(stand->moreLink().getButtonText() == "More: 3 rows above");
    stand->moreLink().press();
    CHECK(stand->cell(0, 0).isVisible());
}

TEST_CASE("With three pairs the row for one more is said to be below")
{
    Stand stand(viewOf(trialOf(3)));
    CHECK(stand->moreLink().isVisible());
    CHECK(stand->moreLink().getButtonText() == "One more pair can be named below");
    stand->moreLink().press();
    CHECK(stand->name(3).isVisible());
    Stand two(viewOf(trialOf(2)));
    CHECK_FALSE(two->moreLink().isVisible());
    CHECK(two->name(2).isVisible());
}

TEST_CASE("The stance that stands here is brought into view")
{
    Stand stand(viewOf(trialOf(6), "Osier 5, upright"));
    CHECK(stand->cell(5, 0).isVisible());
    stand.change([](SessionView& view) { view.trial.hereNow = "Heron 6, upright"; });
    CHECK(stand->cell(0, 0).isVisible());
}

TEST_CASE("More than three orientations scroll sideways")
{
    auto trial = trialOf(1);
    trial.orientations.push_back("leaning");
    Stand stand(viewOf(trial));
    CHECK_FALSE(stand->cell(0, 3).isVisible());
    stand->cell(0, 2).grabKeyboardFocus();
    stand.type(Key::rightKey);
    CHECK(focused() == "Heron 6, leaning");
    CHECK(stand->cell(0, 3).isVisible());
    CHECK(stand->moreLink().getButtonText() == "More: 1 column at the left");
}

TEST_CASE("Everything on the board can be named by a screen reader, and is large enough to be hit")
{
    Stand stand(viewOf(withTakes(trialOf(2), "Heron 6, upright", 2), "Heron 6, upright"));
    CHECK(test::namelessOrSmall(*stand).toStdString() == "");
    CHECK(stand->cell(0, 0).getTitle() == "Heron 6, upright. 1 set-up, 2 of 4 takes. Here now.");
    CHECK(stand->name(0).getTitle() == "Heron 6");
    CHECK_FALSE(stand->cell(2, 0).isAccessible());
    CHECK(stand->cell(0, 0).createAccessibilityHandler()->getRole() == juce::AccessibilityRole::button);
    CHECK(stand->name(0).createAccessibilityHandler()->getRole() == juce::AccessibilityRole::label);
    CHECK(stand->name(2).createAccessibilityHandler()->getRole() == juce::AccessibilityRole::button);
}

TEST_CASE("A stance that was taken has its monitor's colour in its strokes, its cabinets and its shelf")
{
    Stand stand(viewOf(withTakes(trialOf(3), "Tarn 5, upright", 2)));
    const auto straw = darkPalette().monitor(1);
    const auto cell = stand->cell(1, 0).getBounds();
    const auto tally = cell.withTrimmedLeft(92).withHeight(18);
    CHECK(countOf(stand, straw, tally) > 30);
    CHECK(countOf(stand, straw, cell) > 150);
    CHECK(countOf(stand, straw, stand->cell(1, 1).getBounds()) == 0);
    CHECK(countOf(stand, straw, stand->cell(0, 0).getBounds()) == 0);
    CHECK(countOf(stand, straw, { 0, 84, 10, 50 }) > 20); // its mark
}

TEST_CASE("What stands here now is on a plate and on stands")
{
    Stand stand(viewOf(trialOf(3), "Heron 6, upright"));
    const auto here = stand->cell(0, 0).getBounds(), other = stand->cell(0, 1).getBounds();
    CHECK(countOf(stand, darkPalette().plate, here) > 3000);
    CHECK(countOf(stand, darkPalette().plate, other) == 0);
    const auto stands = [](juce::Rectangle<int> cell)
    { return cell.reduced(5).withTop(cell.getBottom() - 12).withWidth(80); };
    CHECK(countOf(stand, darkPalette().ink, stands(here)) > 8);
    CHECK(countOf(stand, darkPalette().ink, stands(other)) == 0);
}

TEST_CASE("The ring about a cell shows that the keyboard is there")
{
    Stand stand(viewOf(trialOf(2)));
    const auto edge = stand->cell(0, 0).getBounds().withWidth(3);
    CHECK(countOf(stand, darkPalette().ink, edge) == 0);
    stand->cell(0, 0).grabKeyboardFocus();
    CHECK(countOf(stand, darkPalette().ink, edge) > 40);
}

TEST_CASE("Very many takes are told in words within the cell")
{
    Stand few(viewOf(withTakes(trialOf(1), "Heron 6, side, tweeters out", 5)));
    const auto area = few->cell(0, 1).getBounds().withTrimmedLeft(92).withHeight(20);
    const auto fewStrokes = countOf(few, darkPalette().monitor(0), area);
    CHECK(fewStrokes > 80);
    Stand many(viewOf(withTakes(trialOf(1), "Heron 6, side, tweeters out", 60)));
    CHECK(countOf(many, darkPalette().monitor(0), area) > 20);
    const auto beside = juce::Rectangle<int>(area.getRight() - 3, area.getY(), 3, area.getHeight());
    CHECK(countOf(many, darkPalette().monitor(0), beside) == 0);
}
