// What could pass here for the wrong reason: a line that is filled by what it was told to draw. So what has
// passed is measured in pixels against the share of the take that has passed, and repaints are written down.

#include "Editor/TimeLine.h"

#include "Support/FakeSession.h"
#include "Support/RepaintLog.h"

#include <catch2/catch.hpp>

using namespace plumbline;
using namespace plumbline::test;

namespace
{

struct Desk
{
    explicit Desk(const TakeTimes& times = { 2.0, 6.0, 1.5, true, 1.0 })
    {
        session.content.times = times;
        session.show(session.content);
        context.view = session.session();
        line.setBounds(TimeLine::placeInWindow().withZeroOrigin());
        line.viewChanged();
    }

    void at(double seconds, LiveState::Phase phase = LiveState::Phase::taking)
    {
        context.live.elapsedSeconds = seconds;
        context.live.phase = phase;
        line.liveChanged();
    }

    juce::Image snapshot() { return line.createComponentSnapshot(line.getLocalBounds(), true, 1.0f); }

    int count(juce::Rectangle<int> area, juce::Colour colour)
    {
        const auto image = snapshot();
        int pixels = 0;
        for (int y = area.getY(); y < area.getBottom(); ++y)
            for (int x = area.getX(); x < area.getRight(); ++x)
                pixels += image.getPixelAt(x, y) == colour ? 1 : 0;
        return pixels;
    }

    /** Px of the line that are filled, its gaps too. */
    int filled()
    {
        const auto image = snapshot();
        int last = 64;
        for (int x = 64; x < 1016; ++x)
            if (image.getPixelAt(x, 20) == context.palette->ink)
                last = x + 1;
        return last - 64;
    }

    juce::ScopedJuceInitialiser_GUI gui;
    FakeSession session;
    WindowContext context{ .session = session,
                           .view = session.session(),
                           .live = {},
                           .goTo = {},
                           .showCare = {},
                           .showTrialMenu = {} };
    TimeLine line{ context };
};

}

TEST_CASE("The line of time is filled as far as the take has come")
{
    Desk desk;
    CHECK(desk.filled() == 0);
    for (const double seconds : { 1.0, 4.0, 12.5, 16.5 })
    {
        desk.at(seconds);
        desk.at(seconds);
        CHECK(desk.filled() == Approx(952.0 * seconds / 16.5).margin(1.5));
    }
    desk.at(16.5, LiveState::Phase::analysing);
    CHECK(desk.filled() == Approx(952).margin(1));
    desk.at(16.5, LiveState::Phase::idle); // over: the next one begins anew
    CHECK(desk.filled() == 0);
    desk.at(1e9);
    CHECK(desk.filled() == Approx(952).margin(1));
}

TEST_CASE("Its parts stand in their order, and only the one that plays is named in ink")
{
    const auto parts = TimeLine::stretchesOf({ 2.0, 6.0, 1.5, true, 1.0 });
    REQUIRE(parts.size() == 5);
    const char* names[] = { "quiet", "left", "rest", "right", "tail" };
    const double starts[] = { 0.0, 2.0, 8.0, 9.5, 15.5 };
    Desk desk;
    for (std::size_t i = 0; i < 5; ++i)
    {
        CHECK(juce::String(parts[i].name) == names[i]);
        CHECK(parts[i].fromSeconds == Approx(starts[i]));
        desk.at(starts[i] + 0.3);
        desk.at(starts[i] + 0.3);
        for (std::size_t k = 0; k < 5; ++k)
        {
            const auto x = 64 + juce::roundToInt(952.0 * starts[k] / 16.5);
            INFO(names[k] << " while " << names[i] << " plays");
            CHECK((desk.count({ x, 0, 32, 12 }, desk.context.palette->ink) > 0) == (i == k));
        }
    }
    const auto single = TimeLine::stretchesOf({ 1.0, 3.0, 1.0, false, 1.0 });
    REQUIRE(single.size() == 3);
    CHECK(juce::String(single[1].name) == "sweep");
    CHECK(single[2].toSeconds == Approx(5.0));
}

TEST_CASE("Names that would touch are left out, never the one that plays")
{
    Desk desk({ 0.2, 30.0, 0.2, true, 0.2 });
    const auto second = desk.context.palette->second;
    CHECK(desk.count({ 64, 0, 2, 12 }, second) == 0); // quiet is 3 px wide
    desk.at(0.1);
    desk.at(0.1);
    CHECK(desk.count({ 64, 0, 32, 12 }, desk.context.palette->ink) > 0);
}

TEST_CASE("Only the strip that changed is repainted, at most fifteen times a second")
{
    Desk desk;
    desk.at(3.0);
    RepaintLog log(desk.line);
    int asked = 0;
    for (int frame = 1; frame <= 90; ++frame) // three seconds
    {
        desk.at(3.0 + frame / 30.0);
        const auto areas = log.taken();
        asked += areas.empty() ? 0 : 1;
        for (const auto& area : areas)
        {
            CHECK(area.getY() >= 14);
            CHECK(area.getWidth() <= 12);
        }
    }
    CHECK(asked >= 40);
    CHECK(asked <= 45);
    // A stop is seen at once.
    desk.at(6.0, LiveState::Phase::taking);
    log.taken();
    desk.at(6.0, LiveState::Phase::stopped);
    CHECK_FALSE(log.taken().empty());
    for (int frame = 0; frame < 60; ++frame)
        desk.at(6.0, LiveState::Phase::stopped);
    CHECK(log.taken().empty());
}

TEST_CASE("For ears the line of time says its parts and its length")
{
    Desk desk;
    CHECK(desk.line.getTitle().isNotEmpty());
    const auto words = desk.line.getDescription().replaceCharacter(juce::juce_wchar(0x00a0), ' ');
    CHECK(words == "quiet 2.0 s, left 6.0 s, rest 1.5 s, right 6.0 s, tail 1.0 s; 16.5 s in one stream.");
}
