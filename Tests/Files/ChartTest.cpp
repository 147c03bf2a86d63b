// What could pass here for the wrong reason: text that looks like a drawing. Every chart is parsed as XML,
// and what is looked for is found by where it stands: the labels of the grid tell which place means which
// frequency and level, and a curve must go through the places that its values have on that grid.

#include "Files/Chart.h"

#include "Support/GermanLocale.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cstdlib>
#include <juce_core/juce_core.h>
#include <limits>

using namespace plumbline;
using namespace plumbline::test;

namespace
{

struct Point
{
    double x, y;
};

/** A path's stretches: a new one at each M. Only M and L are drawn. */
using Stretches = std::vector<std::vector<Point>>;

Stretches stretchesOf(const std::string& d)
{
    Stretches stretches;
    const char* at = d.c_str();
    while (*at != '\0')
    {
        REQUIRE((*at == 'M' || *at == 'L'));
        if (*at == 'M')
            stretches.emplace_back();
        char* end = nullptr;
        const double x = std::strtod(at + 1, &end), y = std::strtod(end, &end);
        REQUIRE_FALSE(stretches.empty());
        stretches.back().push_back({ x, y });
        at = end;
    }
    return stretches;
}

struct Drawing
{
    explicit Drawing(const std::string& svg) : xml(juce::parseXML(juce::String::fromUTF8(svg.c_str())))
    {
        INFO(svg);
        REQUIRE(xml != nullptr);
        REQUIRE(xml->hasTagName("svg"));
    }

    std::vector<const juce::XmlElement*> texts(const juce::String& words) const
    {
        std::vector<const juce::XmlElement*> found;
        for (const auto* text : xml->getChildWithTagNameIterator("text"))
            if (text->getAllSubText() == words)
                found.push_back(text);
        return found;
    }

    Point placeOf(const juce::String& words) const
    {
        const auto found = texts(words);
        INFO(words);
        REQUIRE(found.size() == 1);
        return { found[0]->getDoubleAttribute("x"), found[0]->getDoubleAttribute("y") };
    }

    /** Paths of a colour inside the plot. */
    std::vector<const juce::XmlElement*> curves(const juce::String& colour) const
    {
        std::vector<const juce::XmlElement*> found;
        for (const auto* path : xml->getChildWithTagNameIterator("path"))
            if (path->getStringAttribute("stroke") == colour && path->hasAttribute("clip-path"))
                found.push_back(path);
        return found;
    }

    std::unique_ptr<juce::XmlElement> xml;
};

Stretches stretchesOf(const juce::XmlElement* path)
{
    return stretchesOf(path->getStringAttribute("d").toStdString());
}

ChartCurve curveOf(const std::string& name, std::vector<double> levels, std::vector<bool> known = {})
{
    ChartCurve curve;
    curve.name = name;
    for (std::size_t i = 0; i < levels.size(); ++i)
        curve.frequencyHz.push_back(125.0 * std::pow(2.0, static_cast<double>(i)));
    curve.levelDb = std::move(levels);
    curve.known = known.empty() ? std::vector<bool>(curve.levelDb.size(), true) : std::move(known);
    curve.colour = "#94124F";
    return curve;
}

ChartFrame frameOf(const std::string& title)
{
    ChartFrame frame;
    frame.title = title;
    frame.caption = "1/12 octave.";
    return frame;
}

/** Where the names at the right edge stand, from the top down. */
std::vector<double> namePlaces(const Drawing& drawing, const std::vector<ChartCurve>& curves)
{
    std::vector<double> places;
    for (const auto& curve : curves)
        places.push_back(drawing.placeOf(juce::String::fromUTF8(curve.name.c_str())).y);
    std::sort(places.begin(), places.end());
    return places;
}

double leastGap(const std::vector<double>& places)
{
    double least = 1e9;
    for (std::size_t i = 1; i < places.size(); ++i)
        least = std::min(least, places[i] - places[i - 1]);
    return least;
}

/** 18 apart, both places being written with one decimal. */
constexpr double leastApart = 18.0 - 0.1 - 1e-9;

}

TEST_CASE("A chart is well-formed XML, whatever the names in it hold")
{
    for (const char* words :
         { "Heron 6, upright", "A < B & C > \"D\"", "]]>", "<!-- x", "Höhe – é", "&amp;", "" })
    {
        const std::vector<ChartCurve> curves{ curveOf(words, { 0.0, -5.0, -10.0 }) };
        const Drawing drawing(chartSvg(frameOf(words), curves));
        if (*words != '\0')
            CHECK(drawing.texts(juce::String::fromUTF8(words)).size() == 2); // the title and the name
        CHECK(drawing.xml->getChildByName("title")->getAllSubText() == juce::String::fromUTF8(words));
    }
    const Drawing empty(chartSvg(frameOf("Nothing"), {}));
    CHECK(empty.curves("#94124F").empty());
}

TEST_CASE("A control character in a name does not break the drawing")
{
    const Drawing drawing(chartSvg(frameOf("a\x01\x1f\x08"
                                           "b"),
                                   { curveOf("c\x02"
                                             "d",
                                             { 0.0, -5.0 }) }));
    for (const auto* text : drawing.xml->getChildWithTagNameIterator("text"))
        for (auto c = text->getAllSubText().getCharPointer(); !c.isEmpty(); ++c)
            CHECK(*c >= 32); // XML 1.0, section 2.2: no character under 32 but tab and line ends
}

TEST_CASE("A curve goes through the places that the grid's labels give to its values")
{
    const auto curve =
        curveOf("Tarn 5", { 0.0, -10.0, -30.0, 10.0, -20.0, 0.0 }); // 125, 250, 500 Hz, 1, 2, 4 kHz
    const Drawing drawing(chartSvg(frameOf("Three"), { curve }));
    const auto paths = drawing.curves("#94124F");
    REQUIRE(paths.size() == 1);
    const auto stretches = stretchesOf(paths[0]);
    REQUIRE(stretches.size() == 1);
    REQUIRE(stretches[0].size() == 6);
    const char* frequencies[] = { "125", "250", "500", "1k", "2k", "4k" };
    const char* levels[] = { "0", "\u221210", "\u221230", "10", "\u221220", "0" };
    for (std::size_t i = 0; i < 6; ++i)
    {
        CHECK(stretches[0][i].x == Approx(drawing.placeOf(frequencies[i]).x).margin(0.11));
        const auto level = drawing.placeOf(juce::String::fromUTF8(levels[i]));
        CHECK(stretches[0][i].y ==
              Approx(level.y - 4.5).margin(0.11)); // a label's foot is 4.5 under its line
    }
}

TEST_CASE("A curve is broken where it is not known, and what is not known is faint")
{
    const auto curve = curveOf("Osier 8", { -1.0, -2.0, -3.0, -4.0, -5.0, -6.0, -7.0 },
                               { true, true, false, false, true, false, true });
    const Drawing drawing(chartSvg(frameOf("Gaps"), { curve }));
    const auto paths = drawing.curves("#94124F");
    REQUIRE(paths.size() == 2);
    const bool faintFirst = paths[0]->getDoubleAttribute("opacity") < paths[1]->getDoubleAttribute("opacity");
    const auto known = stretchesOf(paths[faintFirst ? 1 : 0]), faint = stretchesOf(paths[faintFirst ? 0 : 1]);
    CHECK(paths[faintFirst ? 1 : 0]->getDoubleAttribute("opacity") == 1.0);
    const auto sizes = [](const Stretches& stretches)
    {
        std::vector<std::size_t> counts;
        for (const auto& stretch : stretches)
            counts.push_back(stretch.size());
        return counts;
    };
    CHECK(sizes(known) == std::vector<std::size_t>{ 2, 1, 1 });
    CHECK(sizes(faint) == std::vector<std::size_t>{ 2, 1 });
    const auto x = [&](const char* label) { return Approx(drawing.placeOf(label).x).margin(0.11); };
    CHECK(known[0][1].x == x("250"));
    CHECK(faint[0][0].x == x("500"));
    CHECK(faint[0][1].x == x("1k"));
    CHECK(known[1][0].x == x("2k"));
    CHECK(faint[1][0].x == x("4k"));
    CHECK(known[2][0].x == x("8k"));
}

TEST_CASE("Values that are no numbers break a curve and are drawn nowhere")
{
    const double nan = std::numeric_limits<double>::quiet_NaN(),
                 infinity = std::numeric_limits<double>::infinity();
    for (const bool known : { true, false })
    {
        const auto curve =
            curveOf("x", { 0.0, nan, -3.0, infinity, -5.0, -infinity }, std::vector<bool>(6, known));
        const auto svg = chartSvg(frameOf("Gaps"), { curve });
        CHECK(svg.find("nan") == std::string::npos);
        CHECK(svg.find("inf") == std::string::npos);
        const Drawing drawing(svg);
        const auto paths = drawing.curves("#94124F");
        REQUIRE(paths.size() == 1);
        CHECK(stretchesOf(paths[0]).size() == 3);
    }
}

TEST_CASE("What lies outside the frame's frequencies is not drawn")
{
    auto frame = frameOf("Middle");
    frame.lowHz = 200.0;
    frame.highHz = 3000.0;
    const Drawing drawing(chartSvg(frame, { curveOf("x", { 0.0, -1.0, -2.0, -3.0, -4.0, -5.0 }) }));
    REQUIRE(drawing.curves("#94124F").size() == 1);
    CHECK(stretchesOf(drawing.curves("#94124F")[0])[0].size() == 4); // 250 Hz to 2 kHz
    CHECK(drawing.texts("125").empty());
    CHECK(drawing.texts("4k").empty());
}

TEST_CASE("Names at the lines' ends do not overlap, and keep the order of the lines")
{
    for (const std::size_t count : { 2u, 9u, 20u })
        for (const double level : { -39.0, -15.3, 9.9 }) // all at the bottom, in the middle, at the top
        {
            std::vector<ChartCurve> curves;
            for (std::size_t i = 0; i < count; ++i)
                curves.push_back(
                    curveOf("Pair " + std::to_string(i), { 0.0, level - 0.037 * static_cast<double>(i) }));
            const Drawing drawing(chartSvg(frameOf("Crowd"), curves));
            const auto places = namePlaces(drawing, curves);
            INFO(count << " names at " << level << " dB");
            CHECK(leastGap(places) >= leastApart);
            for (std::size_t i = 1; i < count; ++i)
                CHECK(drawing.placeOf(curves[i].name).y > drawing.placeOf(curves[i - 1].name).y);
            CHECK(places.front() > 92.0); // inside the plot, from 92 to 460
            CHECK(places.back() < 466.0);
        }
}

TEST_CASE("Names that have room stand at their lines' ends")
{
    const std::vector<ChartCurve> curves{ curveOf("Heron 6", { 0.0, 0.0 }),
                                          curveOf("Tarn 5", { 0.0, -20.0 }) };
    const Drawing drawing(chartSvg(frameOf("Two"), curves));
    CHECK(drawing.placeOf("Heron 6").y == Approx(drawing.placeOf("0").y).margin(0.11));
    CHECK(drawing.placeOf("Tarn 5").y ==
          Approx(drawing.placeOf(juce::String::fromUTF8("\u221220")).y).margin(0.11));
}

TEST_CASE("A name stands at the last value that is known and is a number")
{
    const double nan = std::numeric_limits<double>::quiet_NaN();
    const std::vector<ChartCurve> curves{ curveOf("Heron 6", { 0.0, -20.0, -30.0 }, { true, true, false }),
                                          curveOf("Tarn 5", { 0.0, 0.0, nan }) };
    const Drawing drawing(chartSvg(frameOf("Two"), curves));
    CHECK(drawing.placeOf("Heron 6").y ==
          Approx(drawing.placeOf(juce::String::fromUTF8("\u221220")).y).margin(0.11));
    CHECK(drawing.placeOf("Tarn 5").y == Approx(drawing.placeOf("0").y).margin(0.11));
}

TEST_CASE("A locale with a decimal comma changes nothing of a chart")
{
    auto frame = frameOf("Three");
    const std::vector<ChartCurve> curves{ curveOf("x", { 0.123, -5.6, -10.7 }) };
    fitLevelRange(frame, curves, 50.0);
    const auto svg = chartSvg(frame, curves);
    const GermanLocale german;
    if (!german.there())
        WARN(whyNoGermanLocale);
    else
        CHECK(chartSvg(frame, curves) == svg);
}

TEST_CASE("The range of levels holds what is known, in steps of 5 dB, and leaves what is not known out")
{
    ChartFrame frame;
    fitLevelRange(
        frame, { curveOf("x", { 1.0, 7.9, 60.0 }, { true, true, false }), curveOf("y", { 2.0, 3.0 }) }, 50.0);
    CHECK(frame.topDb == 10.0);
    CHECK(frame.bottomDb == -40.0);
    fitLevelRange(frame, { curveOf("x", { -33.0, -31.9 }) }, 60.0);
    CHECK(frame.topDb == -25.0);
    CHECK(frame.bottomDb == -85.0);
    fitLevelRange(frame, { curveOf("x", { 5.0 }, { false }) }, 20.0); // nothing known: left as it was
    CHECK(frame.topDb == -25.0);
    CHECK(frame.bottomDb == -85.0);
}

TEST_CASE("Each of the first six monitors has a colour of its own, each usual orientation a dash of its own")
{
    const auto& colours = monitorColours();
    CHECK(std::set<std::string>(colours.begin(), colours.end()).size() == 6);
    const std::set<std::string> dashes{ orientationDash("upright"), orientationDash("side, tweeters out"),
                                        orientationDash("side, tweeters in"),
                                        orientationDash("on its head") };
    CHECK(dashes.size() == 4);
    CHECK(orientationDash("upright") == "");
}

TEST_CASE("A dashed curve runs over an unbroken thread that is fainter and thinner")
{
    auto dashed = curveOf("x", { 0.0, -1.0, -2.0 }, { true, true, false });
    dashed.dash = orientationDash("side, tweeters in");
    const Drawing drawing(chartSvg(frameOf("Dash"), { dashed, curveOf("y", {}) }));
    const juce::XmlElement* line = nullptr;
    std::size_t threads = 0;
    for (const auto* path : drawing.curves("#94124F"))
        if (path->hasAttribute("stroke-dasharray"))
            line = path;
    REQUIRE(line != nullptr);
    CHECK(line->getStringAttribute("stroke-dasharray") == juce::String(orientationDash("side, tweeters in")));
    for (const auto* path : drawing.curves("#94124F"))
        if (path != line && path->getStringAttribute("d") == line->getStringAttribute("d"))
        {
            ++threads;
            CHECK(path->getDoubleAttribute("opacity") < line->getDoubleAttribute("opacity"));
            CHECK(path->getDoubleAttribute("stroke-width") < line->getDoubleAttribute("stroke-width"));
        }
    CHECK(threads == 1);
}
