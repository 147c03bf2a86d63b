// What could pass here for the wrong reason: keys handed straight to the window and never to what has the keyboard, so they
// go the way a desktop sends them (HeadlessDesk).

#include "Editor/Keys.h"

#include "Support/OpenWindow.h"

#include <catch2/catch.hpp>

using namespace plumbline;
using juce::KeyPress;
using test::command;
using test::OpenWindow;
using Phase = LiveState::Phase;

TEST_CASE("Escape stops from every stage, while it sounds and in silence")
{
    OpenWindow open;
    for (const auto stage : { '1', '2', '3', '4', '5' })
    {
        open.type(stage, command);
        for (const auto phase : { Phase::taking, Phase::idle })
        {
            open.phase(phase);
            open.session.asked.clear();
            CHECK(open.type(KeyPress::escapeKey));
            CHECK(open.asked("stop") >= 1);
        }
    }
}

TEST_CASE("Escape stops out of a text field that would keep it for itself")
{
    OpenWindow open;
    open.focusTextField();
    open.phase(Phase::taking);
    CHECK(open.type(KeyPress::escapeKey));
    CHECK(open.asked("stop") >= 1);
}

TEST_CASE("Escape stops from beside the window, and when nothing has the keyboard")
{
    OpenWindow open;
    open.phase(Phase::taking);
    open.window->giveAwayKeyboardFocus();
    REQUIRE(juce::Component::getCurrentlyFocusedComponent() == nullptr);
    CHECK(open.type(KeyPress::escapeKey));
    CHECK(open.asked("stop") >= 1);
    open.session.asked.clear();
    open.desk->addAndMakeVisible(open.field); // as a menu may lie that opened over the window
    open.field.setBounds(10, 10, 100, 30);
    open.field.grabKeyboardFocus();
    open.window->look();
    CHECK(open.type(KeyPress::escapeKey));
    CHECK(open.asked("stop") >= 1);
}

TEST_CASE("While it sounds Escape only stops: nothing is closed and no stage is left")
{
    OpenWindow open;
    open.type(KeyPress::F1Key);
    open.phase(Phase::taking);
    open.type(KeyPress::escapeKey);
    CHECK(open.window->sheet().careIsOpen());
    open.phase(Phase::idle);
    open.type(KeyPress::escapeKey);
    CHECK_FALSE(open.window->sheet().careIsOpen());
}

TEST_CASE("In silence Escape closes what is open, then steps back a stage")
{
    OpenWindow open;
    CHECK(open.window->stage() == Stage::capture);
    open.type('4', command);
    open.type(KeyPress::F1Key);
    CHECK(open.window->sheet().careIsOpen());
    open.window->grabKeyboardFocus();
    open.type(KeyPress::escapeKey);
    CHECK_FALSE(open.window->sheet().careIsOpen());
    CHECK(open.window->stage() == Stage::correct);
    open.window->grabKeyboardFocus();
    open.type(KeyPress::escapeKey);
    CHECK(open.window->stage() == Stage::capture);
    open.type(KeyPress::escapeKey);
    CHECK(open.window->stage() == Stage::capture);
}

TEST_CASE("Space stays the host's, wherever the keyboard is")
{
    OpenWindow open;
    auto& header = open.window->sheet().header();
    for (auto* part : std::initializer_list<juce::Component*>{ open.window.get(), &header.trialName(),
                                                               &header.word(Stage::check), &header.stopSlot(),
                                                               &header.careWord() })
    {
        part->grabKeyboardFocus();
        REQUIRE(part->hasKeyboardFocus(false));
        CHECK_FALSE(open.type(KeyPress::spaceKey));
    }
    CHECK(open.session.asked.empty());
}

TEST_CASE("Every part that takes the keyboard leaves Space to the host")
{
    OpenWindow open;
    int stops = 0;
    for (const auto stage : { '1', '2', '3' })
    {
        open.type(stage, command);
        open.window->grabKeyboardFocus();
        for (int i = 0; i < 60; ++i)
        {
            open.type(KeyPress::tabKey);
            auto* focused = juce::Component::getCurrentlyFocusedComponent();
            if (focused == nullptr || dynamic_cast<juce::TextEditor*>(focused) != nullptr)
                continue;
            ++stops;
            INFO(focused->getTitle());
            CHECK_FALSE(open.type(KeyPress::spaceKey));
            CHECK(focused->getTitle().isNotEmpty());
        }
    }
    CHECK(stops > 60);
}

TEST_CASE("The keys 1 to 5 choose a stage, with the command key only")
{
    OpenWindow open;
    for (const auto& [key, stage] : { std::pair{ '1', Stage::connect }, std::pair{ '3', Stage::compare },
                                      std::pair{ '5', Stage::check }, std::pair{ '2', Stage::capture } })
    {
        CHECK(open.type(key, command));
        CHECK(open.window->stage() == stage);
    }
    CHECK_FALSE(open.type('5'));
    CHECK(open.window->stage() == Stage::capture);
}

TEST_CASE("The scale goes in steps, and the sheet fills the window at each")
{
    CHECK(nextScale(100, -1) == 100);
    CHECK(nextScale(100, 1) == 125);
    CHECK(nextScale(180, 1) == 200);
    CHECK(nextScale(180, -1) == 175);
    CHECK(nextScale(250, 1) == 250);
    CHECK(nextScale(175, 0) == 100);
    OpenWindow open;
    CHECK(open.type('=', command));
    open.window->look();
    CHECK(open.window->getWidth() == 1500);
    CHECK(open.window->getLocalArea(&open.window->sheet(), open.window->sheet().getLocalBounds()) ==
          open.window->getLocalBounds());
    open.type('0', command);
    open.window->look();
    CHECK(open.window->getWidth() == 1200);
}
