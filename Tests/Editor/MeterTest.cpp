// What could pass here for the wrong reason: a meter that repaints always, or never. What it asks to be
// repainted is written down, and its fall is told by the clock that its feeds are: thirty a second.

#include "Editor/Meter.h"

#include "Support/FakeSession.h"
#include "Support/RepaintLog.h"

#include <catch2/catch.hpp>

using namespace plumbline;
using namespace plumbline::test;

namespace
{

struct Desk
{
    Desk() { meter.setBounds(0, 0, Meter::width, Meter::height); }

    void feed(float dbfs, int times = 1)
    {
        for (int i = 0; i < times; ++i)
            meter.feed(dbfs);
    }

    juce::String value() const { return meter.value().replaceCharacter(juce::juce_wchar(0x00a0), ' '); }

    /** Pixels of a colour in a row of the picture. */
    int pixels(int y, juce::Colour colour)
    {
        const auto image = meter.createComponentSnapshot(meter.getLocalBounds(), true, 1.0f);
        int count = 0;
        for (int x = 0; x < image.getWidth(); ++x)
            count += image.getPixelAt(x, y).withAlpha(1.0f) == colour ? 1 : 0;
        return count;
    }

    juce::ScopedJuceInitialiser_GUI gui;
    FakeSession session;
    WindowContext context{ .session = session,
                           .view = session.session(),
                           .live = {},
                           .goTo = {},
                           .showCare = {},
                           .showTrialMenu = {} };
    Meter meter{ context, "Microphone" };
};

}

TEST_CASE("A meter says its level with a true minus, and nothing when nothing comes")
{
    Desk desk;
    CHECK(desk.value() == "nothing");
    desk.feed(-200.0f, 5);
    CHECK(desk.value() == "nothing");
    desk.feed(-33.2f);
    CHECK(desk.value() == juce::String::fromUTF8("−33 dBFS"));
    desk.feed(-0.3f);
    CHECK(desk.value() == "0 dBFS");
    desk.feed(-200.0f, 200);
    CHECK(desk.value() == "nothing");
    desk.feed(-85.0f, 200); // a quiet microphone is something
    CHECK(desk.value() == juce::String::fromUTF8("−85 dBFS"));
    desk.feed(std::numeric_limits<float>::quiet_NaN(), 300);
    CHECK(desk.value() == "nothing");
}

TEST_CASE("A meter rises at once and falls 20 dB a second; its peak is held for a second and a half")
{
    Desk desk;
    desk.feed(-10.0f);
    CHECK(desk.meter.level() == -10.0f);
    desk.feed(-60.0f, 30);
    CHECK(desk.meter.level() == Approx(-30.0f).margin(0.01));
    CHECK(desk.meter.peak() == -10.0f);
    desk.feed(-60.0f, 14);
    CHECK(desk.meter.peak() == -10.0f);
    desk.feed(-60.0f, 31);
    CHECK(desk.meter.peak() == Approx(-10.0f - 31.0f * 20.0f / 30.0f).margin(0.7));
    desk.feed(-60.0f, 300);
    CHECK(desk.meter.level() == -60.0f);
    CHECK(desk.meter.peak() == -60.0f);
}

TEST_CASE("A meter says clipped, with the attend mark, from full scale on and for three seconds after")
{
    Desk desk;
    desk.feed(-0.1f);
    CHECK(desk.value() == "0 dBFS");
    CHECK(desk.pixels(5, desk.context.palette->attend) == 0);
    for (const float full : { 0.0f, 3.0f, -0.0003f, std::numeric_limits<float>::infinity() })
    {
        desk.meter.reset();
        desk.feed(full);
        CHECK(desk.value() == "clipped");
        CHECK(desk.pixels(5, desk.context.palette->attend) > 0);
        desk.feed(-40.0f, 89);
        CHECK(desk.value() == "clipped");
        desk.feed(-40.0f);
        CHECK(desk.value() == juce::String::fromUTF8("−40 dBFS"));
    }
}

TEST_CASE("The line is as long as its level says")
{
    Desk desk;
    const auto length = [&](float dbfs)
    {
        desk.meter.reset();
        desk.feed(dbfs);
        const auto image = desk.meter.createComponentSnapshot(desk.meter.getLocalBounds(), true, 1.0f);
        int count = 0;
        for (int x = 4; x < 132; ++x)
            count += image.getPixelAt(x, 19).getAlpha() > 200 ? 1 : 0;
        return count;
    };
    CHECK(length(0.0f) == Approx(128).margin(2));
    CHECK(length(-30.0f) == Approx(64).margin(2));
    CHECK(length(-45.0f) == Approx(32).margin(2));
    CHECK(length(-70.0f) <= 1);
}

TEST_CASE("A meter repaints only when something is to be seen")
{
    Desk desk;
    RepaintLog log(desk.meter);
    desk.feed(-200.0f, 30);
    CHECK(log.taken().empty());
    desk.feed(-33.0f);
    CHECK_FALSE(log.taken().empty());
    desk.feed(-33.0f, 30);
    CHECK(log.taken().empty());
    desk.feed(-33.02f); // nobody can see that
    CHECK(log.taken().empty());
    desk.feed(-90.0f, 600);
    CHECK_FALSE(log.taken().empty());
    desk.feed(-90.0f, 30);
    CHECK(log.taken().empty());
    desk.feed(0.0f);
    CHECK_FALSE(log.taken().empty());
}

TEST_CASE("For ears a meter has a name and a value, and takes no mouse")
{
    Desk desk;
    CHECK(desk.meter.getTitle() == "Microphone");
    desk.feed(-20.0f);
    const auto handler = desk.meter.createAccessibilityHandler();
    REQUIRE(handler->getValueInterface() != nullptr);
    CHECK(handler->getValueInterface()->getCurrentValueAsString() == desk.meter.value());
    CHECK(handler->getValueInterface()->isReadOnly());
    CHECK(Meter::placedAtLine(566) == juce::Rectangle<int>(1044, 544, 136, 46));
}
