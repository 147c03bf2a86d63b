// What could pass here for the wrong reason: a page that records reading whenever it goes away, so each way
// of leaving is tried alone; words that are there but not on the page, so it is drawn and looked at too.

#include "Editor/CarePage.h"

#include "Editor/PageStand.h"

#include <catch2/catch.hpp>

using namespace plumbline;

namespace
{

using Stand = test::PageStand<CarePage>;

SessionView read(bool careWasRead)
{
    SessionView view;
    view.careWasRead = careWasRead;
    return view;
}

/** How many of its pixels are not ground. */
int inked(juce::Component& part, juce::Colour ground)
{
    const auto picture = part.createComponentSnapshot(part.getLocalBounds(), true, 1.0f);
    int count = 0;
    for (int y = 0; y < picture.getHeight(); ++y)
        for (int x = 0; x < picture.getWidth(); ++x)
            count += picture.getPixelAt(x, y) != ground ? 1 : 0;
    return count;
}

}

TEST_CASE("Its act records the reading and closes the page")
{
    Stand stand(read(false));
    CHECK(stand->act().getButtonText() == "I have read this");
    stand->act().press();
    CHECK(stand.session.asked == std::vector<std::string>{ "careWasRead" });
    CHECK(stand.went == std::vector<std::string>{ "care closed" });
}

TEST_CASE("Closing it by Escape records nothing")
{
    Stand stand(read(false));
    stand->act().grabKeyboardFocus();
    CHECK(stand.type(juce::KeyPress::escapeKey));
    CHECK(stand.went == std::vector<std::string>{ "care closed" });
    CHECK(stand.session.asked.empty());
}

TEST_CASE("Escape is Stop's while a take runs")
{
    Stand stand(read(true));
    stand.context.live.phase = LiveState::Phase::taking;
    CHECK_FALSE(stand->keyPressed(juce::KeyPress(juce::KeyPress::escapeKey)));
    CHECK(stand.went.empty());
}

TEST_CASE("Once read it only closes")
{
    Stand stand(read(true));
    CHECK(stand->act().getButtonText() == "Close");
    stand->act().grabKeyboardFocus();
    CHECK(stand.type(juce::KeyPress::returnKey));
    CHECK(stand.session.asked.empty());
    CHECK(stand.went == std::vector<std::string>{ "care closed" });
}

TEST_CASE("It speaks of ears, drivers, cabinets, mains and of who comes first")
{
    Stand stand(read(false));
    const auto words = stand->getDescription();
    for (const auto* part : { "raise slowly", "away from the monitors", "protection", "tweeter", "-40 dBFS",
                              "Two people", "secure", "switch them off", "Open no cabinet", "licensed people",
                              "maker", "the rules that hold where you are", "noise at work" })
        CHECK(words.replaceCharacter(juce::juce_wchar(0x2212), '-').contains(part));
}

TEST_CASE("It is drawn whole in dark and in light, and covers what lies beneath")
{
    Stand stand(read(false));
    CHECK(stand->isOpaque());
    const int dark = inked(*stand, darkPalette().ground);
    stand.context.palette = &lightPalette();
    const int light = inked(*stand, lightPalette().ground);
    CHECK(dark > 20000);
    CHECK(light > 20000);
    CHECK(stand->act().getBottom() <= stand->getHeight());
    CHECK(test::namelessOrSmall(*stand).isEmpty());
}
