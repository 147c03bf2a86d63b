// What could pass here for the wrong reason: a symmetrical figure that looks the same turned round, so
// drivers are compared by their side; a picture that is tinted all over, so single places are looked at.

#include "Editor/MonitorFigure.h"

#include "Editor/Palette.h"

#include <catch2/catch.hpp>

using namespace plumbline;

namespace
{

Monitor heron()
{
    Monitor monitor;
    monitor.name = "Heron 6";
    monitor.widthCm = 21.0;
    monitor.heightCm = 33.0;
    monitor.driverSpacingCm = 17.8;
    monitor.wooferCm = 15.0;
    return monitor;
}

void checkInside(const CabinetFront& front)
{
    CHECK(front.woofer - front.cone >= 0.0);
    CHECK(front.tweeter <= front.high);
    CHECK(front.woofer <= front.tweeter);
    CHECK(2.0 * front.cone <= front.wide);
}

/** The two cabinets' pixels in a picture of 100 x 60. */
juce::Image pictureOf(const Monitor& monitor, Lie lie, const MonitorFigure::Style& style)
{
    juce::Image picture(juce::Image::ARGB, 100, 60, true, juce::SoftwareImageType());
    juce::Graphics g(picture);
    MonitorFigure(monitor, 1.0f).draw({ g, darkPalette() }, { 28.0f, 50.0f }, 44.0f, lie, style);
    return picture;
}

}

TEST_CASE("A cabinet has the sizes that were typed, and drivers as far apart as was typed")
{
    const auto front = frontOf(heron());
    CHECK(front.wide == 21.0);
    CHECK(front.high == 33.0);
    CHECK(front.tweeter - front.woofer == Approx(17.8));
    CHECK(front.cone == Approx(7.0).margin(0.2));
    checkInside(front);
}

TEST_CASE("What was not typed has the proportions of a usual cabinet")
{
    const auto usual = frontOf({});
    CHECK(usual.wide == 20.0);
    CHECK(usual.high == 31.0);
    CHECK(usual.cone == Approx(6.4));
    CHECK(usual.tweeter == Approx(19.0 + 8.3));
    CHECK(usual.woofer == Approx(19.0 - 8.3));
    Monitor tall;
    tall.heightCm = 62.0;
    CHECK(frontOf(tall).wide == Approx(40.0));
    CHECK(frontOf(tall).tweeter == Approx(2.0 * usual.tweeter).margin(0.5));
}

TEST_CASE("Drivers lie within the cabinet, whatever was typed")
{
    for (const double high : { 5.0, 33.0, 250.0 })
        for (const double wide : { 5.0, 21.0, 150.0 })
            for (const double spacing : { 2.0, 17.8, 150.0 })
                for (const double woofer : { 5.0, 46.0 })
                {
                    auto monitor = heron();
                    monitor.heightCm = high;
                    monitor.widthCm = wide;
                    monitor.driverSpacingCm = spacing;
                    monitor.wooferCm = woofer;
                    INFO(high << " x " << wide << ", " << spacing << " apart, " << woofer);
                    checkInside(frontOf(monitor));
                }
}

TEST_CASE("Lying, the tweeters of a pair are both out or both in")
{
    const MonitorFigure figure(heron(), 1.0f);
    const auto leftOut = figure.drivers({ 0.0f, 0.0f }, Lie::sideOut, true);
    const auto rightOut = figure.drivers({ 0.0f, 0.0f }, Lie::sideOut, false);
    CHECK(leftOut.tweeter.x < leftOut.woofer.x);
    CHECK(rightOut.tweeter.x > rightOut.woofer.x);
    CHECK(leftOut.tweeter.x == Approx(-rightOut.tweeter.x));
    CHECK(leftOut.tweeter.y == leftOut.woofer.y);
    const auto leftIn = figure.drivers({ 0.0f, 0.0f }, Lie::sideIn, true);
    CHECK(leftIn.tweeter == rightOut.tweeter);
    CHECK(leftIn.woofer == rightOut.woofer);
    const auto upright = figure.drivers({ 0.0f, 0.0f }, Lie::upright, true);
    CHECK(upright.tweeter.y < upright.woofer.y);
    CHECK(upright.tweeter.x == upright.woofer.x);
}

TEST_CASE("A cabinet that lies is as wide as it was high, and stands on the same shelf")
{
    const MonitorFigure figure(heron(), 2.0f);
    CHECK(figure.cabinet({ 50.0f, 80.0f }, Lie::upright) ==
          juce::Rectangle<float>(29.0f, 14.0f, 42.0f, 66.0f));
    CHECK(figure.cabinet({ 50.0f, 80.0f }, Lie::sideIn) ==
          juce::Rectangle<float>(17.0f, 38.0f, 66.0f, 42.0f));
    CHECK(figure.cabinet({ 50.0f, 80.0f }, Lie::ownWords) == figure.cabinet({ 50.0f, 80.0f }, Lie::upright));
}

TEST_CASE("All monitors have one scale, at which the largest fits")
{
    auto large = heron();
    CHECK(commonScale({ large }, 0.84f, 37.0f, 36.5f) == 0.84f);
    large.heightCm = 100.0;
    const auto scale = commonScale({ heron(), large }, 0.84f, 37.0f, 36.5f);
    CHECK(scale == Approx(0.365f));
    CHECK(commonScale({}, 0.84f, 37.0f, 36.5f) == 0.84f);
}

TEST_CASE("A pair is drawn as two cabinets and a single monitor as one between them")
{
    const MonitorFigure::Style style{ juce::Colours::white, 0.2f };
    const auto tinted = [](const juce::Image& picture, int x)
    { return picture.getPixelAt(x, 47).getAlpha() > 0; };
    const auto pair = pictureOf(heron(), Lie::upright, style);
    CHECK(tinted(pair, 28));
    CHECK(tinted(pair, 72));
    CHECK_FALSE(tinted(pair, 50));
    auto one = heron();
    one.kind = Monitor::Kind::single;
    const auto single = pictureOf(one, Lie::upright, style);
    CHECK(tinted(single, 50));
    CHECK_FALSE(tinted(single, 28));
    CHECK_FALSE(tinted(single, 72));
}

TEST_CASE("A stance that is not asked for is dashed and without a tint")
{
    const auto outline = [](const juce::Image& picture)
    {
        int covered = 0;
        for (int y = 20; y < 50; ++y)
            covered += picture.getPixelAt(17, y).getAlpha() > 60;
        return covered;
    };
    MonitorFigure::Style style{ juce::Colours::white };
    const int whole = outline(pictureOf(heron(), Lie::upright, style));
    style.dashed = true;
    const auto dashed = pictureOf(heron(), Lie::upright, style);
    CHECK(whole >= 28);
    CHECK(outline(dashed) < whole - 8);
    CHECK(outline(dashed) > 5);
    CHECK(dashed.getPixelAt(28, 47).getAlpha() == 0);
}
