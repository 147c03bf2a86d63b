// What could pass here for the wrong reason: a refusal that changes the figure first and says so later, so
// the figure is read after each; a figure that is "held" because it never changes at all, so one inside the
// range is typed too; a menu that chooses what held already.

#include "Editor/CaptionSentence.h"

#include "Editor/PageStand.h"

#include <catch2/catch.hpp>

using namespace plumbline;
using Key = juce::KeyPress;

namespace
{

/** "Sweep in [length] at [level], from [source]" with a page's worth of room. */
struct Sentence final : Part
{
    explicit Sentence(WindowContext& windowContext) : Part(windowContext), caption(windowContext)
    {
        caption.addFigure("length", "Length", { 1.0, 30.0, 1.0, 1, "s" }).onChanged =
            [this](std::optional<double> value) { lengths.push_back(value); };
        caption.addFigure("level", "Level", { -80.0, -6.0, 1.0, 1, "dBFS" });
        auto& size = caption.addFigure("size", "Height", { 5.0, 250.0, 0.5, 1, "cm" });
        size.setUnknown("? cm", 30.0);
        caption.addMenu("source", "Source", { "one", "two", "three" }).onChosen = [this](int row)
        { chosen.push_back(row); };
        caption.onRemark = [this](const juce::String& remark) { remarks.push_back(remark); };
        caption.setSentence("Sweep in [length] at [level], [size] high, from [source]; [nothing] more");
        figure("length").setValue(3.0);
        figure("level").setValue(-40.0);
        addAndMakeVisible(caption);
        setSize(900, 300);
        caption.placeAt(20, 40, 800.0f);
    }

    FigureWord& figure(const char* id) { return static_cast<FigureWord&>(*caption.word(id)); }

    MenuWord& menu() { return static_cast<MenuWord&>(*caption.word("source")); }

    juce::String lastRemark() const { return remarks.empty() ? juce::String() : remarks.back(); }

    CaptionSentence caption;
    std::vector<std::optional<double>> lengths;
    std::vector<int> chosen;
    std::vector<juce::String> remarks;
};

using Stand = test::PageStand<Sentence>;

juce::String plain(const juce::String& words)
{
    return words.replaceCharacter(juce::juce_wchar(0x00a0), ' ')
        .replaceCharacter(juce::juce_wchar(0x2212), '-');
}

}

TEST_CASE("A caption reads as one sentence with its figures and choices in it")
{
    Stand stand;
    CHECK(plain(stand->caption.reads()) == "Sweep in 3 s at -40 dBFS, ? cm high, from one;  more");
    CHECK(stand->figure("level").shown().containsChar(juce::juce_wchar(0x2212)));
    stand->figure("length").setValue(4.5);
    CHECK(plain(stand->caption.getTitle()).contains("in 4.5 s at"));
}

TEST_CASE("A typed figure changes, with or without its unit")
{
    Stand stand;
    auto& length = stand->figure("length");
    for (const auto* typed : { "7", "8 s", "9,5", " 1500 ms " })
        length.type(typed);
    REQUIRE(stand->lengths == std::vector<std::optional<double>>{ 7.0, 8.0, 9.5, 1.5 });
    CHECK(stand->lastRemark().isEmpty());
    stand->figure("level").type(juce::String::fromUTF8("−12,5 dBFS"));
    CHECK(plain(stand->figure("level").shown()) == "-12.5 dBFS");
}

TEST_CASE("A typed figure is held to its range, and says so")
{
    Stand stand;
    stand->figure("length").type("400");
    CHECK(plain(stand->figure("length").shown()) == "30 s");
    CHECK(plain(stand->lastRemark()) == "Held at 30 s, the most.");
    stand->figure("level").type("-100");
    CHECK(plain(stand->figure("level").shown()) == "-80 dBFS");
    CHECK(plain(stand->lastRemark()) == "Held at -80 dBFS, the least.");
    stand->figure("level").type("0");
    CHECK(plain(stand->figure("level").shown()) == "-6 dBFS");
}

TEST_CASE("What is no figure is refused in words and changes nothing")
{
    Stand stand;
    for (const auto* typed :
         { "loud", "3 apples", "1.2.3", "--3", "3-4", "", ".", "nan", "inf", "1e9", "3 s s" })
    {
        INFO(typed);
        stand->remarks.clear();
        stand->figure("length").type(typed);
        CHECK(stand->lastRemark().contains("Nothing was changed."));
        CHECK(plain(stand->figure("length").shown()) == "3 s");
    }
    CHECK(stand->lengths.empty());
    stand->figure("length").type("5"); // and it can be changed
    CHECK(stand->lengths.size() == 1);
    CHECK(stand->lastRemark().isEmpty());
}

TEST_CASE("A figure that may be left out becomes unknown again when nothing is typed")
{
    Stand stand;
    auto& size = stand->figure("size");
    std::vector<std::optional<double>> told;
    size.onChanged = [&](std::optional<double> value) { told.push_back(value); };
    size.type("27");
    size.type("");
    CHECK(told == std::vector<std::optional<double>>{ 27.0, std::nullopt });
    CHECK(size.shown() == "? cm");
}

TEST_CASE("Arrow keys step a figure and stop at its ends; Space is left to the host")
{
    Stand stand;
    auto& length = stand->figure("length");
    length.grabKeyboardFocus();
    REQUIRE(length.hasKeyboardFocus(false));
    CHECK(stand.type(Key::upKey));
    CHECK(stand.type(Key::pageUpKey));
    for (int i = 0; i < 20; ++i)
        stand.type(Key::downKey);
    CHECK(stand->lengths.front() == 4.0);
    CHECK(stand->lengths.at(1) == 14.0);
    CHECK(stand->lengths.back() == 1.0);
    CHECK(stand->lengths.size() == 15);
    CHECK_FALSE(stand.type(Key::spaceKey));
}

TEST_CASE("Return opens a figure for typing; Return keeps it, Escape abandons it")
{
    Stand stand;
    auto& length = stand->figure("length");
    length.grabKeyboardFocus();
    REQUIRE(stand.type(Key::returnKey));
    REQUIRE(length.isTyping());
    CHECK(stand.desk->type(Key('8', {}, '8')));
    CHECK(stand.type(Key::returnKey));
    CHECK_FALSE(length.isTyping());
    CHECK(stand->lengths == std::vector<std::optional<double>>{ 8.0 });
    CHECK(length.hasKeyboardFocus(false));
    stand.type(Key::returnKey);
    stand.desk->type(Key('9', {}, '9'));
    CHECK(stand.type(Key::escapeKey));
    CHECK_FALSE(length.isTyping());
    CHECK(stand->lengths.size() == 1);
}

TEST_CASE("Escape passes by what is typed while a take runs: it is Stop's")
{
    Stand stand;
    stand->figure("length").grabKeyboardFocus();
    stand.type(Key::returnKey);
    stand.context.live.phase = LiveState::Phase::taking;
    CHECK_FALSE(stand.type(Key::escapeKey));
    CHECK(stand->figure("length").isTyping());
    stand.context.live.phase = LiveState::Phase::idle;
    CHECK(stand.type(Key::escapeKey));
}

TEST_CASE("Dragging a figure up raises it, and tells it once it is let go")
{
    Stand stand;
    auto& length = stand->figure("length");
    const juce::Point<float> from{ 12.0f, 15.0f }, to{ 12.0f, -35.0f };
    const auto down = test::press(length, from);
    length.mouseDown(down);
    const juce::MouseEvent dragged{ down.source,    to,   down.mods,      0.0f,    0.0f,
                                    0.0f,           0.0f, 0.0f,           &length, &length,
                                    down.eventTime, from, down.eventTime, 1,       true };
    length.mouseDrag(dragged);
    CHECK(plain(length.shown()) == "13 s");
    CHECK(stand->lengths.empty());
    length.mouseUp(dragged);
    CHECK(stand->lengths == std::vector<std::optional<double>>{ 13.0 });
    CHECK_FALSE(length.isTyping());
}

TEST_CASE("A choice opens a menu by Return, and arrows and Return choose in it")
{
    Stand stand;
    stand->menu().grabKeyboardFocus();
    REQUIRE(stand.type(Key::returnKey));
    auto* menu = stand->menu().menu();
    REQUIRE(menu != nullptr);
    CHECK(menu->hasKeyboardFocus(false));
    CHECK(menu->filledRow() == 0);
    stand.type(Key::downKey);
    stand.type(Key::downKey);
    stand.type(Key::downKey);
    CHECK(menu->filledRow() == 2);
    CHECK(menu->getTitle() == "Source: three");
    stand.type(Key::upKey);
    stand.type(Key::returnKey);
    CHECK(stand->chosen == std::vector<int>{ 1 });
    CHECK(stand->menu().menu() == nullptr);
    CHECK(stand->menu().hasKeyboardFocus(false));
}

TEST_CASE("A menu closes by Escape and by a press elsewhere, and chooses nothing then")
{
    Stand stand;
    stand->menu().open();
    CHECK(stand.type(Key::escapeKey));
    CHECK(stand->menu().menu() == nullptr);
    stand->menu().open();
    const auto inMenu = stand.desk->getLocalPoint(stand->menu().menu(), juce::Point<int>(3, 3)); // its edge
    stand.clickAt(inMenu);
    CHECK(stand->menu().menu() != nullptr);
    stand.clickAt({ 700, 250 });
    CHECK(stand->menu().menu() == nullptr);
    stand->menu().open();
    CHECK(closeWhatIsOpen(*stand.desk));
    CHECK(stand->menu().menu() == nullptr);
    CHECK_FALSE(closeWhatIsOpen(*stand.desk));
    CHECK(stand->chosen.empty());
}

TEST_CASE("A row of a menu is chosen by a click")
{
    Stand stand;
    const auto word = stand->menu().getBounds().getCentre() + stand->caption.getPosition();
    stand.clickAt(word);
    REQUIRE(stand->menu().menu() != nullptr);
    stand.clickAt(stand.desk->getLocalPoint(stand->menu().menu(), juce::Point<int>(40, 6 + 25 + 12)));
    CHECK(stand->chosen == std::vector<int>{ 1 });
    CHECK(stand->menu().menu() == nullptr);
}

TEST_CASE("While a take runs, Escape in a menu is Stop's")
{
    Stand stand;
    stand->menu().open();
    stand.context.live.phase = LiveState::Phase::taking;
    CHECK_FALSE(stand.type(Key::escapeKey));
    CHECK(stand->menu().menu() != nullptr);
}

TEST_CASE("A long sentence breaks between words and never inside a choice")
{
    Stand stand;
    stand->caption.placeAt(20, 40, 150.0f);
    CHECK(stand->caption.lines() >= 3);
    for (const auto* id : { "length", "level", "size", "source" })
    {
        const auto* word = stand->caption.word(id);
        CHECK(static_cast<float>(word->getRight() - SentenceWord::room) <= 8.0f + 150.0f + 1.0f);
    }
    CHECK(test::namelessOrSmall(*stand).isEmpty());
}
