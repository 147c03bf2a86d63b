// What could pass here for the wrong reason: a chart that says the right words and draws something else, or
// one that never repaints. So curves are looked for in the pixels where their levels lie on the scale, values
// at the plumb line come from formulas, and what is repainted is written down and must be something, but
// little.

#include "Editor/ResponseChart.h"

#include "Editor/LineEnds.h"
#include "Support/DrawnTakes.h"
#include "Support/FakeSession.h"
#include "Support/HeadlessDesk.h"
#include "Support/RepaintLog.h"

#include <algorithm>
#include <array>
#include <catch2/catch.hpp>

using namespace plumbline;
using namespace plumbline::test;

namespace
{

const auto levelLeft = [](double f) { return 80.0 - 3.0 * std::log10(f / 1000.0); };
const auto levelRight = [](double f) { return 76.0 + 2.0 * std::log10(f / 1000.0); };

struct Desk
{
    Desk()
    {
        chart.setBounds(chart.placeInWindow().withZeroOrigin());
        chart.setVisible(true);
    }

    void show(const std::shared_ptr<TakeCurves>& newest, const std::shared_ptr<TakeCurves>& before = nullptr)
    {
        chart.show({ newest, before }, 2, Lie::upright);
    }

    void hover(double hz, float y = 200.0f)
    {
        chart.mouseMove(press(chart, { static_cast<float>(chart.chart().scale().x(hz)), y }));
    }

    juce::Image snapshot(float scale = 1.0f)
    {
        return chart.createComponentSnapshot(chart.getLocalBounds(), true, scale);
    }

    juce::String values() const
    {
        juce::StringArray words;
        if (const auto* plumb = chart.plumbLine())
            for (const auto& value : plumb->values())
                words.add(value.words);
        return words.joinIntoString("; ").replaceCharacter(juce::juce_wchar(0x00a0), ' ');
    }

    juce::ScopedJuceInitialiser_GUI gui;
    FakeSession session;
    WindowContext context{ .session = session,
                           .view = session.session(),
                           .live = {},
                           .goTo = {},
                           .showCare = {},
                           .showTrialMenu = {} };
    ResponseChart chart{ context };
};

std::shared_ptr<TakeCurves> pairTake(double knownFrom = 20.0, double knownTo = 20000.0)
{
    return drawnTake(drawnResponse(levelLeft, knownFrom, knownTo),
                     drawnResponse(levelRight, knownFrom, knownTo));
}

/** Where a line of a colour crosses a column of the picture: the middle of what it covers of the ground. */
double heightOf(const juce::Image& image, int x, juce::Colour colour, juce::Colour ground, int from, int to)
{
    const auto part = [](int r, int g, int b) { return std::array{ double(r), double(g), double(b) }; };
    const auto less = [&](juce::Colour a)
    {
        return part(a.getRed() - ground.getRed(), a.getGreen() - ground.getGreen(),
                    a.getBlue() - ground.getBlue());
    };
    const auto dot = [](const auto& a, const auto& b) { return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]; };
    const auto full = less(colour);
    double sum = 0.0, weighed = 0.0;
    for (int y = from; y < to; ++y)
    {
        const auto here = less(image.getPixelAt(x, y));
        const double covered = dot(here, full) / dot(full, full);
        const double strange = dot(here, here) - covered * covered * dot(full, full);
        if (covered > 0.4 && strange < 0.1 * covered * covered * dot(full, full))
        {
            sum += covered;
            weighed += covered * (y + 0.5);
        }
    }
    return sum > 0.0 ? weighed / sum : -1.0;
}

bool holdsDigit(const juce::String& words)
{
    return words.containsAnyOf("0123456789");
}

}

TEST_CASE("Curves stand in the picture where their levels lie on the scale, at each size of pixel")
{
    Desk desk;
    desk.show(pairTake());
    const auto& scale = desk.chart.chart().scale();
    CHECK(scale.top() == 90.0); // 85.1 dB at 20 Hz, 3 dB of air, whole 5 dB
    for (const auto* palette : { &darkPalette(), &lightPalette() })
        for (const float pxScale : { 1.0f, 1.25f, 2.0f })
        {
            desk.context.palette = palette;
            const auto image = desk.snapshot(pxScale);
            const double s = static_cast<double>(pxScale);
            for (const double f : { 60.0, 300.0, 700.0, 3000.0 })
            {
                INFO(f << " Hz at scale " << pxScale);
                const auto x = static_cast<int>(scale.x(f) * s);
                const double split = s * scale.y(78.0);
                CHECK(heightOf(image, x, palette->monitor(2), palette->ground, 0, static_cast<int>(split)) ==
                      Approx(s * scale.y(levelLeft(f))).margin(0.75));
                CHECK(heightOf(image, x, palette->monitor(2), palette->ground, static_cast<int>(split),
                               image.getHeight()) == Approx(s * scale.y(levelRight(f))).margin(0.75));
            }
        }
}

TEST_CASE("The plumb line reads left and right with their unit")
{
    Desk desk;
    desk.show(pairTake());
    desk.hover(1000.0);
    REQUIRE(desk.chart.plumbLine() != nullptr);
    CHECK(desk.values() == "left 80.0 dB SPL; right 76.0 dB SPL");
    CHECK(desk.chart.plumbLine()->label() == juce::String::fromUTF8("1.00\u00a0kHz"));
    desk.hover(100.0);
    CHECK(desk.values() == "left 83.0 dB SPL; right 74.0 dB SPL");
    CHECK(desk.chart.plumbLine()->label() == juce::String::fromUTF8("100\u00a0Hz"));
    desk.hover(63.0);
    CHECK(desk.chart.plumbLine()->label() == juce::String::fromUTF8("63.0\u00a0Hz"));

    auto relative =
        drawnTake(drawnResponse([](double) { return -12.34; }), drawnResponse([](double) { return -0.01; }));
    relative->levelIsSpl = false;
    desk.show(relative);
    CHECK(desk.values() == juce::String::fromUTF8("left −12.3 dB; right 0.0 dB"));
    CHECK(desk.chart.summary().contains("microphone over loopback"));

    auto single = std::make_shared<TakeCurves>(*pairTake());
    single->right.reset();
    desk.show(single);
    CHECK(desk.values() == "83.6 dB SPL"); // 80 + 3 lg(1000 / 63)
    desk.hover(1000.0);
    CHECK(desk.values() == "80.0 dB SPL");
}

TEST_CASE("What is not known is said in words, never as a number")
{
    Desk desk;
    auto take = pairTake(200.0, 9000.0);
    for (std::size_t i = 0; i < take->right->known.size(); ++i)
        if (take->right->frequencyHz[i] > 900.0 && take->right->frequencyHz[i] < 1100.0)
            take->right->levelDb[i] = std::numeric_limits<double>::quiet_NaN(); // said to be known
    desk.show(take);
    int unknown = 0;
    for (double f = 20.0; f < 20000.0; f *= 1.01)
    {
        desk.hover(f);
        REQUIRE(desk.chart.plumbLine() != nullptr);
        const auto& values = desk.chart.plumbLine()->values();
        REQUIRE(values.size() == 2);
        const bool outside = f < 200.0 || f > 9000.0;
        for (std::size_t k = 0; k < 2; ++k)
        {
            const bool hole = k == 1 && f > 930.0 && f < 1070.0;
            if (outside || hole)
            {
                CHECK(values[k].words == (k == 0 ? "left not known" : "right not known"));
                CHECK_FALSE(values[k].y.has_value());
                ++unknown;
            }
            CHECK(holdsDigit(values[k].words) == values[k].y.has_value());
        }
    }
    CHECK(unknown > 500);
    CHECK(desk.chart.summary().contains(juce::String::fromUTF8("not known under 2")));
    CHECK(desk.chart.summary().contains("not known over 8."));
}

TEST_CASE("The values stand beside the line, inside the plot, apart from each other, on the freer side")
{
    Desk desk;
    desk.show(
        drawnTake(drawnResponse([](double) { return 80.0; }), drawnResponse([](double) { return 79.5; })));
    for (double f = 20.0; f < 20000.0; f *= 1.02)
    {
        desk.hover(f);
        const auto& plumb = *desk.chart.plumbLine();
        CHECK(std::abs(plumb.values()[0].baseline - plumb.values()[1].baseline) >= 17.9f);
        const auto areas = plumb.areas();
        for (std::size_t i = 2; i < areas.size(); ++i)
        {
            CHECK(areas[i].getX() >= 60);
            CHECK(areas[i].getRight() <= 1020);
        }
    }
    // Level to the left of 1 kHz, far down to the right of it: the right side is free. And vice versa.
    const auto cliff = [](double level, bool downward)
    {
        return drawnResponse(
            [=](double f)
            {
                const bool low = downward ? f > 1020.0 : f < 980.0;
                return low ? 50.0 : level;
            });
    };
    desk.show(drawnTake(cliff(80.0, true), cliff(79.0, true)));
    desk.hover(1000.0);
    CHECK(desk.chart.plumbLine()->valuesStandRight());
    desk.show(drawnTake(cliff(80.0, false), cliff(79.0, false)));
    desk.hover(1000.0);
    CHECK_FALSE(desk.chart.plumbLine()->valuesStandRight());
}

TEST_CASE("Hovering makes no picture anew and repaints only what the plumb line covers")
{
    Desk desk;
    desk.show(pairTake(), pairTake());
    desk.snapshot();
    const int made = desk.chart.chart().timesMade();
    CHECK(made == 1);
    RepaintLog log(desk.chart);
    const int all = desk.chart.getWidth() * desk.chart.getHeight();
    for (double f = 30.0; f < 18000.0; f *= 1.1)
    {
        desk.hover(f);
        const int pixels = log.pixelsTaken();
        CHECK(pixels > 3000);
        CHECK(pixels < all / 20);
        desk.snapshot();
    }
    CHECK(desk.chart.chart().timesMade() == made);
    // What is to be seen lies inside what was asked for.
    desk.chart.mouseExit(press(desk.chart, {}));
    const auto without = desk.snapshot();
    log.taken();
    desk.hover(515.0);
    const auto asked = log.taken();
    const auto with = desk.snapshot();
    int changed = 0;
    for (int y = 0; y < with.getHeight(); ++y)
        for (int x = 0; x < with.getWidth(); ++x)
            if (with.getPixelAt(x, y) != without.getPixelAt(x, y))
            {
                ++changed;
                if (std::none_of(asked.begin(), asked.end(),
                                 [&](const auto& area) { return area.contains(x, y); }))
                    FAIL("changed outside at " << x << ", " << y);
            }
    CHECK(changed > 500);
}

TEST_CASE("The picture is made anew when data, palette or scale change, and only then")
{
    Desk desk;
    const auto& picture = desk.chart.chart();
    const auto take = pairTake(), other = pairTake(50.0);
    desk.show(take);
    CHECK(picture.timesMade() == 0); // nobody looked yet
    desk.snapshot();
    desk.snapshot();
    desk.show(take);
    desk.snapshot();
    CHECK(picture.timesMade() == 1);
    desk.show(other);
    desk.snapshot();
    CHECK(picture.timesMade() == 2);
    desk.show(other, take);
    desk.snapshot();
    CHECK(picture.timesMade() == 3);
    desk.snapshot(2.0f);
    desk.snapshot(2.0f);
    CHECK(picture.timesMade() == 4);
    desk.context.palette = &lightPalette();
    desk.snapshot(2.0f);
    CHECK(picture.timesMade() == 5);
    desk.chart.show({ other, take }, 1, Lie::upright);
    desk.snapshot(2.0f);
    desk.chart.show({ other, take }, 1, Lie::sideIn);
    desk.snapshot(2.0f);
    CHECK(picture.timesMade() == 7);
}

TEST_CASE("Arrows move the plumb line by parts of an octave; Escape and Space are left to others")
{
    using juce::KeyPress;
    Desk desk;
    desk.show(pairTake());
    const auto shift = juce::ModifierKeys(juce::ModifierKeys::shiftModifier);
    const auto frequency = [&] { return desk.chart.plumbLine()->frequency(); };
    CHECK(desk.chart.keyPressed(KeyPress(KeyPress::rightKey)));
    CHECK(frequency() == Approx(1000.0));
    CHECK(desk.chart.keyPressed(KeyPress(KeyPress::rightKey)));
    CHECK(frequency() == Approx(1000.0 * std::pow(10.0, 0.3 / 12.0)));
    CHECK(desk.chart.keyPressed(KeyPress(KeyPress::leftKey)));
    CHECK(desk.chart.keyPressed(KeyPress(KeyPress::leftKey, shift, 0)));
    CHECK(frequency() == Approx(1000.0 / std::pow(10.0, 0.1)));
    for (const int code : { KeyPress::escapeKey, KeyPress::spaceKey, KeyPress::returnKey, KeyPress::upKey })
        CHECK_FALSE(desk.chart.keyPressed(KeyPress(code)));
    CHECK_FALSE(desk.chart.keyPressed(KeyPress(KeyPress::rightKey, juce::ModifierKeys::ctrlModifier, 0)));
    // It stays when the mouse leaves, as it did not come with it.
    desk.chart.mouseExit(press(desk.chart, {}));
    CHECK(desk.chart.plumbLine() != nullptr);
    desk.hover(500.0);
    desk.chart.mouseExit(press(desk.chart, {}));
    CHECK(desk.chart.plumbLine() == nullptr);
    desk.hover(500.0, 350.0f); // under the plot
    CHECK(desk.chart.plumbLine() == nullptr);
}

TEST_CASE("An empty chart says what will be here and how, and has no plumb line")
{
    Desk desk;
    CHECK(desk.chart.summary().startsWith("Here the level will be drawn"));
    CHECK(desk.chart.summary().contains("start"));
    CHECK(desk.chart.getDescription() == desk.chart.summary());
    desk.hover(1000.0);
    CHECK_FALSE(desk.chart.keyPressed(juce::KeyPress(juce::KeyPress::rightKey)));
    CHECK(desk.chart.plumbLine() == nullptr);
    const auto empty = desk.snapshot();
    desk.show(pairTake());
    desk.hover(1000.0);
    CHECK(desk.chart.plumbLine() != nullptr);
    desk.chart.show();
    CHECK(desk.chart.plumbLine() == nullptr);
    const auto again = desk.snapshot();
    for (int y = 0; y < again.getHeight(); ++y)
        for (int x = 0; x < again.getWidth(); ++x)
            if (again.getPixelAt(x, y) != empty.getPixelAt(x, y))
                FAIL("differs at " << x << ", " << y);
}

TEST_CASE("For ears the chart has a title, and a summary of what it shows")
{
    Desk desk;
    auto take = pairTake(30.0), before = pairTake();
    take->take = 2;
    desk.show(take, before);
    CHECK(desk.chart.getTitle().isNotEmpty());
    const auto words = desk.chart.getDescription().replaceCharacter(juce::juce_wchar(0x00a0), ' ');
    CHECK(words.startsWith("Left and right of take 2, 1/12 octave."));
    CHECK(words.contains("not known under 3"));
    CHECK(words.contains("At 1.00 kHz left 80.0 dB SPL, right 76.0 dB SPL."));
    CHECK(words.contains("the band: take 1"));
    const auto handler = desk.chart.createAccessibilityHandler();
    CHECK(handler->getRole() == juce::AccessibilityRole::image);
    REQUIRE(handler->getValueInterface() != nullptr);
    desk.hover(1000.0);
    CHECK(handler->getValueInterface()->getCurrentValueAsString().contains("left"));
}

TEST_CASE("Names at the lines' ends are pushed apart with the least movement")
{
    const auto moved = [](const std::vector<float>& places, const std::vector<WantedPlace>& wanted)
    {
        float sum = 0.0f;
        for (std::size_t i = 0; i < places.size(); ++i)
            sum += (places[i] - wanted[i].y) * (places[i] - wanted[i].y);
        return sum;
    };
    const std::vector<WantedPlace> cases[] = { { { 50.0f, 18.0f }, { 52.0f, 18.0f }, { 200.0f, 18.0f } },
                                               { { 50.0f, 34.0f }, { 60.0f, 18.0f }, { 71.0f, 18.0f } },
                                               { { 80.0f, 18.0f }, { 80.0f, 18.0f }, { 90.0f, 18.0f } } };
    for (const auto& wanted : cases)
    {
        const auto places = pushedApart(wanted, 6.0f, 318.0f);
        REQUIRE(places.size() == 3);
        CHECK(places[1] - places[0] >= wanted[0].room - 1e-3f);
        CHECK(places[2] - places[1] >= wanted[1].room - 1e-3f);
        float best = 1e9f; // by trying
        for (float a = 20.0f; a < 120.0f; a += 0.5f)
            for (float b = a + wanted[0].room; b < 160.0f; b += 0.5f)
                best = std::min(best, moved({ a, b, std::max(wanted[2].y, b + wanted[1].room) }, wanted));
        CHECK(moved(places, wanted) <= best + 1e-3f);
    }
    const auto low = pushedApart({ { 310.0f, 18.0f }, { 312.0f, 18.0f } }, 6.0f, 318.0f);
    CHECK(low[1] <= 318.0f);
    CHECK(low[1] - low[0] >= 18.0f);
    CHECK(pushedApart({ { -5.0f, 18.0f } }, 6.0f, 318.0f)[0] == 6.0f);
    CHECK(pushedApart({}, 6.0f, 318.0f).empty());
}
