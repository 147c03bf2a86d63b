// What could pass here for the wrong reason: an idle window that seems quiet because nothing counts, so a change must be
// counted in the same case; a window that closes well only because it was never used.

#include "Editor/EditorWindow.h"

#include "Editor/EditorFactory.h"
#include "Support/OpenWindow.h"

#include <catch2/catch.hpp>

using namespace plumbline;
using juce::KeyPress;
using test::command;
using test::OpenWindow;
using Phase = LiveState::Phase;

TEST_CASE("The factory's window needs no display, and tells the session when it closes")
{
    const juce::ScopedJuceInitialiser_GUI juceRuns;
    test::SilentProcessor processor;
    test::FakeSession session;
    {
        const std::unique_ptr<juce::AudioProcessorEditor> window(makeEditor(processor, session));
        CHECK(window->getWidth() == 1200);
        CHECK(window->getHeight() == 760);
        CHECK(session.asked.empty());
    }
    CHECK(session.asked == std::vector<std::string>{ "windowClosed" });
}

TEST_CASE("A window can be opened and closed many times in the middle of a take")
{
    const juce::ScopedJuceInitialiser_GUI juceRuns;
    test::SilentProcessor processor;
    test::FakeSession session;
    session.show(test::readySession());
    session.now.phase = Phase::taking;
    for (int i = 0; i < 50; ++i)
    {
        const std::unique_ptr<juce::AudioProcessorEditor> window(makeEditor(processor, session));
        static_cast<EditorWindow&>(*window).look();
    }
    CHECK(session.asked == std::vector<std::string>(50, "windowClosed"));
}

TEST_CASE("Closing the page of cautions or the menu leaves the keyboard in the window")
{
    OpenWindow open;
    open.type(KeyPress::F1Key);
    CHECK(open.window->hasKeyboardFocus(true));
    open.type(KeyPress::escapeKey);
    CHECK_FALSE(open.window->sheet().careIsOpen());
    CHECK(open.window->hasKeyboardFocus(true));
    auto& name = open.window->sheet().header().trialName();
    name.onPress();
    open.window->look();
    open.type(KeyPress::escapeKey);
    CHECK_FALSE(open.window->sheet().menuIsOpen());
    CHECK(name.hasKeyboardFocus(false));
}

TEST_CASE("A window of another shape shows the whole sheet, in its middle")
{
    OpenWindow open;
    open.window->setSize(900, 760);
    const auto area = open.window->getLocalArea(&open.window->sheet(), open.window->sheet().getLocalBounds());
    CHECK(area == juce::Rectangle<int>(0, 95, 900, 570));
}

TEST_CASE("An idle window asks for nothing to be drawn")
{
    OpenWindow open;
    for (const auto stage : { '1', '2', '3' })
    {
        open.type(stage, command);
        for (int i = 0; i < 10; ++i)
            open.window->look();
        open.desk->repaintsAsked();
        for (int i = 0; i < 90; ++i)
            open.window->look();
        CHECK(open.desk->repaintsAsked() == 0);
        open.phase(Phase::taking);
        CHECK(open.desk->repaintsAsked() > 0);
        open.phase(Phase::idle);
    }
}

TEST_CASE("A new snapshot is seen at the next look")
{
    OpenWindow open;
    auto light = open.session.content;
    light.appearance.dark = false;
    open.session.show(light);
    open.window->look();
    const auto picture = open.window->createComponentSnapshot(open.window->getLocalBounds());
    CHECK(picture.getPixelAt(1190, 640) == lightPalette().ground);
}

TEST_CASE("The trial's menu opens and closes from the name, by Escape and by a press elsewhere")
{
    OpenWindow open;
    auto& sheet = open.window->sheet();
    const auto openMenu = [&]
    {
        sheet.header().trialName().onPress();
        return sheet.menuIsOpen();
    };
    CHECK(openMenu());
    CHECK_FALSE(openMenu());
    CHECK(openMenu());
    open.window->grabKeyboardFocus();
    open.type(KeyPress::escapeKey);
    CHECK_FALSE(sheet.menuIsOpen());
    CHECK(open.window->stage() == Stage::capture);
    CHECK(openMenu());
    sheet.mouseDown(test::press(sheet, { 900.0f, 600.0f }));
    CHECK_FALSE(sheet.menuIsOpen());
}

TEST_CASE("The first run has no strip until something sounds")
{
    OpenWindow open;
    open.type('1', command);
    CHECK_FALSE(open.window->sheet().stripIsShown());
    open.phase(Phase::taking);
    CHECK(open.window->sheet().stripIsShown());
    open.phase(Phase::idle);
    CHECK_FALSE(open.window->sheet().stripIsShown());
    open.type('2', command);
    CHECK(open.window->sheet().stripIsShown());
}
