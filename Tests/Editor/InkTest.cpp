// What could pass here for the wrong reason: widths checked against the code that made them, so they are taken from the
// fonts' own advance tables; marks that are drawn but not the right ones, so their inked areas are compared with
// closed forms; text that is bound everywhere, so words that must part are asked for too.

#include "Editor/Ink.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <functional>
#include <juce_events/juce_events.h>
#include <numbers>

using namespace plumbline;

namespace
{

const juce::String nbsp = juce::String::charToString(0xa0);
const juce::String minusSign = juce::String::charToString(0x2212);

/** What was drawn, white on black: how much of each pixel is inked, 0..1. */
class Drawn
{
public:
    Drawn(int width, int height, const std::function<void(const Ink&)>& draw)
        : picture(juce::Image::RGB, width, height, true)
    {
        juce::Graphics g(picture);
        auto palette = darkPalette();
        palette.ink = palette.second = palette.attend = juce::Colours::white;
        draw(Ink(g, palette));
    }

    double at(int x, int y) const { return picture.getPixelAt(x, y).getBrightness(); }

    double sum(juce::Rectangle<int> area) const
    {
        double total = 0.0;
        for (int y = area.getY(); y < area.getBottom(); ++y)
            for (int x = area.getX(); x < area.getRight(); ++x)
                total += at(x, y);
        return total;
    }

    double sum() const { return sum(picture.getBounds()); }

private:
    juce::Image picture;
};

/** WCAG 2 contrast ratio. */
double contrast(juce::Colour a, juce::Colour b)
{
    const auto luminance = [](juce::Colour colour)
    {
        const auto linear = [](double v)
        { return v <= 0.04045 ? v / 12.92 : std::pow((v + 0.055) / 1.055, 2.4); };
        return 0.2126 * linear(colour.getFloatRed()) + 0.7152 * linear(colour.getFloatGreen()) +
               0.0722 * linear(colour.getFloatBlue());
    };
    const auto high = std::max(luminance(a), luminance(b)), low = std::min(luminance(a), luminance(b));
    return (high + 0.05) / (low + 0.05);
}

}

TEST_CASE("A size is the em: a line is as wide as the font's advances say")
{
    const juce::ScopedJuceInitialiser_GUI juceRuns;
    CHECK(textWidth("Mill Lane Room", 13.0f, Weight::semibold) == Approx(6.717 * 13.0).margin(0.02));
    CHECK(textWidth("Check comes in a later version.", 24.0f, Weight::semibold) ==
          Approx(12.872 * 24.0).margin(0.02));
    CHECK(textWidth("Check comes in a later version.", 24.0f, Weight::medium) ==
          Approx(12.772 * 24.0).margin(0.02));
    CHECK(textWidth(minusSign, 100.0f, Weight::medium) == Approx(55.0).margin(0.02));
}

TEST_CASE("Every figure is as wide as the next, in both weights")
{
    const juce::ScopedJuceInitialiser_GUI juceRuns;
    for (const auto weight : { Weight::medium, Weight::semibold })
    {
        for (const auto* figure : { "0", "1", "4", "7", "9" })
            CHECK(textWidth(figure, 60.0f, weight) == Approx(0.517 * 60.0).margin(0.01));
        CHECK(textWidth("n", 60.0f, weight) > 0.53 * 60.0); // others may differ
    }
}

TEST_CASE("The fonts come back after JUCE was shut down and started again")
{
    for (int i = 0; i < 3; ++i)
    {
        const juce::ScopedJuceInitialiser_GUI juceRuns;
        CHECK(textWidth("0", 60.0f, Weight::medium) == Approx(0.517 * 60.0).margin(0.01));
    }
}

TEST_CASE("A figure is bound to its unit, and a hyphen before it becomes a minus sign")
{
    CHECK(bound("at -40 dBFS") == "at " + minusSign + "40" + nbsp + "dBFS");
    CHECK(bound("-3.4 dB; 6 s (-2 dB)") ==
          minusSign + "3.4" + nbsp + "dB; 6" + nbsp + "s (" + minusSign + "2" + nbsp + "dB)");
    const auto plusMinus = juce::String::charToString(0xb1);
    CHECK(bound("0.4 " + plusMinus + " 0.1 dB") == "0.4" + nbsp + plusMinus + nbsp + "0.1" + nbsp + "dB");
    CHECK(bound("75 dB SPL") == "75" + nbsp + "dB" + nbsp + "SPL");
    CHECK(bound("6 November") == "6" + nbsp + "November");
}

TEST_CASE("What is no unit and no sign stays as it was")
{
    for (const auto* words : { "12 monitors", "2 takes", "bench-04", "2-4", "side - out", "B SPL5", "" })
        CHECK(bound(words) == words);
}

TEST_CASE("A paragraph breaks where it must, loses no word and parts no figure from its unit")
{
    const juce::ScopedJuceInitialiser_GUI juceRuns;
    const juce::String words =
        "It is even to 2.58 dB at the seat, and 14 dB over the noise at 63 Hz for 6 s.";
    for (const auto measure : { 60.0f, 90.0f, 130.0f, 200.0f })
    {
        const auto lines = brokenIntoLines(words, measure, 15.0f, Weight::medium);
        CHECK(lines.joinIntoString(" ") == bound(words));
        CHECK(lines.size() > 1);
        for (const auto& line : lines)
        {
            CHECK(textWidth(line, 15.0f, Weight::medium) <= measure);
            for (const auto* unit : { "dB", "Hz", "s." })
                CHECK_FALSE(line.startsWith(unit));
        }
    }
    CHECK(brokenIntoLines(words, 10000.0f, 15.0f, Weight::medium).size() == 1);
}

TEST_CASE("Text stands on its baseline and is anchored where it is asked to be")
{
    const juce::ScopedJuceInitialiser_GUI juceRuns;
    const auto word = [](const char* letters, Ink::Anchor anchor)
    {
        return Drawn(
            200, 100,
            [=](const Ink& ink)
            { ink.text(100.0f, 60.0f, letters, 40.0f, juce::Colours::white, Weight::medium, anchor); });
    };
    const auto start = word("HH", Ink::Anchor::start), end = word("HH", Ink::Anchor::end),
               middle = word("HH", Ink::Anchor::middle), below = word("pp", Ink::Anchor::start);
    CHECK(start.sum({ 0, 61, 200, 39 }) < 0.5);
    CHECK(below.sum({ 0, 61, 200, 39 }) > 50.0);
    CHECK(start.sum({ 0, 0, 100, 100 }) < 0.5);
    CHECK(end.sum({ 100, 0, 100, 100 }) < 0.5);
    CHECK(middle.sum({ 0, 0, 100, 100 }) == Approx(middle.sum({ 100, 0, 100, 100 })).epsilon(0.02));
}

TEST_CASE("Each monitor's mark has its own shape")
{
    constexpr double r = 4.0;
    const std::array areas{ std::numbers::pi * r * r,
                            1.76 * 1.76 * r * r,
                            0.5 * 2.2 * 1.95 * r * r,
                            2.0 * 1.44 * r * r,
                            std::numbers::pi * (4.2 * 4.2 - 2.2 * 2.2),
                            2.3 * 0.9 * r * r };
    for (std::size_t row = 0; row < areas.size(); ++row)
    {
        const Drawn mark(20, 20,
                         [row](const Ink& ink) { ink.mark(10.0f, 10.0f, row, juce::Colours::white); });
        CHECK(mark.sum() == Approx(areas[row]).epsilon(0.03));
        CHECK((mark.at(10, 10) < 0.1) == (row == 4)); // only the ring is empty
    }
}

TEST_CASE("The bob hangs down from its thread and ends in a point")
{
    constexpr int size = 50;
    const Drawn bob(100, 120, [](const Ink& ink) { ink.bob(50.0f, 10.0f, size); });
    CHECK(bob.sum({ 0, 0, 100, 10 }) < 0.1);
    CHECK(bob.sum({ 0, 10 + 90, 100, 20 }) < 0.1); // 1.8 sizes long
    CHECK(bob.sum({ 0, 10 + 86, 100, 4 }) > 1.0);
    CHECK(bob.sum({ 0, 12, 100, 1 }) == Approx(20.0)); // 0.4 sizes across at the thread
    CHECK(bob.sum({ 0, 0, 50, 120 }) == Approx(bob.sum({ 50, 0, 50, 120 })).epsilon(0.01));
}

TEST_CASE("An orientation is told by dashes over an unbroken thread")
{
    const auto lineOf = [](Lie lie)
    {
        juce::Path path;
        path.startNewSubPath(0.0f, 10.5f);
        path.lineTo(130.0f, 10.5f);
        return Drawn(130, 21, [=](const Ink& ink) { ink.lieLine(path, lie, juce::Colours::white, 5.0f); });
    };
    const auto upright = lineOf(Lie::upright), out = lineOf(Lie::sideOut);
    CHECK(upright.sum() == Approx(130.0 * 5.0).epsilon(0.001));
    CHECK(out.sum() == Approx(90.0 * 5.0 + 40.0 * 0.5).epsilon(0.01)); // 9 of 13 px, the rest half a px
    CHECK(out.at(4, 12) == Approx(1.0));
    CHECK(out.at(11, 12) == Approx(0.0));
    CHECK(out.at(11, 10) == Approx(0.5).margin(0.01));
    CHECK(lineOf(Lie::sideIn).sum() > 1.2 * 130.0); // round ends; at least the dashes' own length
    CHECK(lieOf("side, tweeters out") == Lie::sideOut);
    CHECK(lieOf("side, tweeters in") == Lie::sideIn);
    CHECK(lieOf("upright") == Lie::upright);
    CHECK(lieOf("on its head") == Lie::ownWords);
}

TEST_CASE("A hairline is one whole pixel of the screen at every scale")
{
    for (const auto scale : { 1.0f, 1.25f, 1.5f, 2.0f })
    {
        const Drawn rule(100, 100,
                         [scale](const Ink& ink)
                         {
                             ink.graphics().addTransform(juce::AffineTransform::scale(scale));
                             ink.rule(20.0f, 0.0f, 100.0f);
                         });
        int rows = 0;
        for (int y = 0; y < 100; ++y)
            rows += rule.at(50, y) > 0.001 ? 1 : 0;
        CHECK(rows == 1);
    }
}

TEST_CASE("Everything can be read on its ground, dark and light")
{
    for (const auto* palette : { &darkPalette(), &lightPalette() })
        for (const auto ground : { palette->ground, palette->plate })
        {
            for (const auto text : { palette->ink, palette->second, palette->third, palette->attend })
                CHECK(contrast(text, ground) >= 4.5);
            for (const auto& monitor : palette->monitors)
                CHECK(contrast(monitor, ground) >= 3.0);
        }
    CHECK(contrast(darkPalette().ink, darkPalette().ground) == Approx(13.9).margin(0.05));
    CHECK(contrast(lightPalette().attend, lightPalette().ground) == Approx(5.5).margin(0.05));
    CHECK(contrast(darkPalette().grid, darkPalette().ground) < 3.0); // the measure can fail
}
