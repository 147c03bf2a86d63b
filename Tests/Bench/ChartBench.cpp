// What drawing the chart of levels costs: a full repaint with left and right, the plumb line's own repaint,
// and the curves alone beside bare juce::Path strokes of the same curves, all into an opaque software image.
//
// What could come out right here for the wrong reason: a picture that was kept and not made, or curves that
// are not drawn at all. So every full repaint is counted by the picture itself, no hover may make one, and
// what painter and paths cover must agree within 5 %.
#include "Editor/CurvePainter.h"
#include "Editor/ResponseChart.h"
#include "Support/DrawnTakes.h"
#include "Support/FakeSession.h"
#include "Support/HeadlessDesk.h"
#include "Timing.h"

#include <cstdlib>

using namespace plumbline;
using namespace plumbline::bench;
using namespace plumbline::test;

namespace
{

constexpr int rounds = 301;

[[noreturn]] void giveUp(const char* words)
{
    std::fprintf(stderr, "%s\n", words);
    std::exit(1);
}

juce::Image opaque(int width, int height)
{
    return { juce::Image::RGB, width, height, true };
}

struct Curve
{
    std::vector<double> frequencyHz, levelDb, upperDb, lowerDb;
};

/** @param ripples dB of fine structure: none is like a smoothed curve */
Curve curveOf(int points, double shift, double ripples)
{
    Curve curve;
    const auto level = roomLike(shift, ripples);
    for (int i = 0; i < points; ++i)
    {
        const double f = 20.0 * std::pow(1000.0, i / (points - 1.0));
        curve.frequencyHz.push_back(f);
        curve.levelDb.push_back(level(f));
        curve.upperDb.push_back(level(f) + 1.0);
        curve.lowerDb.push_back(level(f) - 1.0);
    }
    return curve;
}

juce::Path pathOf(const Curve& curve, const std::vector<double>& levelDb, const ChartScale& scale)
{
    juce::Path path;
    path.preallocateSpace(static_cast<int>(3 * levelDb.size()));
    for (std::size_t i = 0; i < levelDb.size(); ++i)
    {
        const auto x = static_cast<float>(scale.x(curve.frequencyHz[i]));
        const auto y = static_cast<float>(scale.y(levelDb[i]));
        i == 0 ? path.startNewSubPath(x, y) : path.lineTo(x, y);
    }
    return path;
}

juce::Path bandOf(const Curve& curve, const ChartScale& scale)
{
    auto path = pathOf(curve, curve.upperDb, scale);
    for (auto i = curve.levelDb.size(); i-- > 0;)
        path.lineTo(static_cast<float>(scale.x(curve.frequencyHz[i])),
                    static_cast<float>(scale.y(curve.lowerDb[i])));
    path.closeSubPath();
    return path;
}

/** A set of curves, and both ways to draw it. From levels to pixels: nothing is made ready before. */
struct Case
{
    juce::Image image;
    ChartScale scale;
    std::vector<Curve> curves;
    std::vector<float> widths;
    bool bands = false;
    float pxScale = 1.0f;

    void byPaths()
    {
        juce::Graphics g(image);
        for (std::size_t i = 0; i < curves.size(); ++i)
        {
            if (bands)
            {
                g.setColour(juce::Colours::white.withAlpha(0.35f));
                g.fillPath(bandOf(curves[i], scale));
            }
            g.setColour(juce::Colours::white);
            g.strokePath(pathOf(curves[i], curves[i].levelDb, scale),
                         juce::PathStrokeType(widths[i] * pxScale));
        }
    }

    void byPainter(Lie lie = Lie::upright)
    {
        juce::Image::BitmapData bits(image, juce::Image::BitmapData::readWrite);
        CurvePainter painter(bits, image.getBounds(),
                             { static_cast<float>(scale.area().top), static_cast<float>(scale.top()),
                               static_cast<float>(scale.pxPerDb()) },
                             pxScale);
        for (std::size_t i = 0; i < curves.size(); ++i)
        {
            const auto& c = curves[i];
            if (bands)
                painter.band(columnsOf({ c.frequencyHz, c.upperDb }, scale),
                             columnsOf({ c.frequencyHz, c.lowerDb }, scale), juce::Colours::white, 0.35f);
            painter.curve(columnsOf({ c.frequencyHz, c.levelDb }, scale),
                          { juce::Colours::white, widths[i], lie });
        }
    }

    double covered() const
    {
        double sum = 0.0;
        for (int y = 0; y < image.getHeight(); ++y)
            for (int x = 0; x < image.getWidth(); ++x)
                sum += image.getPixelAt(x, y).getRed();
        return sum;
    }
};

void compare(const char* what, Case& drawn, double mostRatio)
{
    drawn.image.clear(drawn.image.getBounds(), juce::Colours::black);
    drawn.byPaths();
    const double paths = drawn.covered();
    drawn.image.clear(drawn.image.getBounds(), juce::Colours::black);
    drawn.byPainter();
    if (paths <= 0.0 || std::abs(drawn.covered() / paths - 1.0) > 0.05)
        giveUp("Painter and paths do not draw the same.");
    std::vector<double> ours, bare, dashed;
    for (int round = 0; round < rounds; ++round)
    {
        bare.push_back(timed([&] { drawn.byPaths(); }));
        ours.push_back(timed([&] { drawn.byPainter(); }));
        dashed.push_back(timed([&] { drawn.byPainter(Lie::sideOut); }));
    }
    std::printf("%s\n", what);
    print("bare juce::Path", quartilesOf(bare), 1e3, "ms");
    print("columns and spans", quartilesOf(ours), 1e3, "ms");
    print("the same, dashed over a thread", quartilesOf(dashed), 1e3, "ms");
    const auto ratio = ratiosOf(ours, bare);
    char words[64];
    std::snprintf(words, sizeof words, "  at most %.1f: %s", mostRatio, verdict(ratio.median <= mostRatio));
    print("ratio", ratio, 1.0, "x", words);
}

Case pairCase(int points, double ripples, float pxScale)
{
    const auto s = static_cast<double>(pxScale);
    return { opaque(juce::roundToInt(952 * s), juce::roundToInt(320 * s)),
             ChartScale({ 0.0, 0.0, 952.0 * s, 320.0 * s }, 95.0),
             { curveOf(points, 0.2, ripples), curveOf(points, 0.9, ripples) },
             { 2.6f, 1.4f },
             false,
             pxScale };
}

Case twelveCase(double ripples)
{
    Case drawn{ opaque(1400, 800), ChartScale({ 0.0, 0.0, 1400.0, 800.0 }, 110.0), {}, {}, true };
    for (int i = 0; i < 12; ++i)
    {
        drawn.curves.push_back(curveOf(1400, 0.3 * i, ripples));
        drawn.widths.push_back(2.0f);
    }
    return drawn;
}

/** The chart as it stands in the window. */
struct Window
{
    Window() { chart.setBounds(ResponseChart::placeInWindow().withZeroOrigin()); }

    FakeSession session;
    WindowContext context{ .session = session,
                           .view = session.session(),
                           .live = {},
                           .goTo = {},
                           .showCare = {},
                           .showTrialMenu = {} };
    ResponseChart chart{ context };
};

std::shared_ptr<TakeCurves> takeOf(double shift)
{
    return drawnTake(drawnResponse(roomLike(shift), 25.0, 18500.0),
                     drawnResponse(roomLike(shift + 0.4), 25.0, 18500.0));
}

void fullRepaint(float pxScale, double mostMilliseconds)
{
    Window window;
    const std::shared_ptr<TakeCurves> takes[] = { takeOf(0.2), takeOf(0.9) };
    auto image = opaque(juce::roundToInt(ResponseChart::width * pxScale),
                        juce::roundToInt(ResponseChart::height * pxScale));
    auto bare = pairCase(478, 0.0, pxScale);
    std::vector<double> full, dashed, banded, kept, paths;
    const auto paint = [&]
    {
        juce::Graphics g(image);
        g.addTransform(juce::AffineTransform::scale(pxScale));
        window.chart.paint(g);
    };
    for (std::size_t round = 0; round < rounds; ++round)
    {
        const auto& take = takes[round % 2];
        const auto& other = takes[1 - round % 2];
        paths.push_back(timed([&] { bare.byPaths(); }));
        window.chart.show({ take, nullptr }, 0, Lie::upright);
        full.push_back(timed(paint));
        kept.push_back(timed(paint));
        window.chart.show({ take, nullptr }, 0, Lie::sideOut);
        dashed.push_back(timed(paint));
        window.chart.show({ take, other }, 0, Lie::upright);
        banded.push_back(timed(paint));
    }
    if (window.chart.chart().timesMade() != 3 * rounds)
        giveUp("A repaint of the benchmark did not make its picture.");
    char words[64];
    const auto q = quartilesOf(full);
    std::snprintf(words, sizeof words, "  under %.0f: %s", mostMilliseconds,
                  verdict(1e3 * q.median < mostMilliseconds));
    print("full repaint, left and right", q, 1e3, "ms", words);
    print("the same, dashed", quartilesOf(dashed), 1e3, "ms");
    print("the same, with the former take's band", quartilesOf(banded), 1e3, "ms");
    print("bare juce::Path of the two curves alone", quartilesOf(paths), 1e3, "ms");
    print("full repaint over those", ratiosOf(full, paths), 1.0, "x");
    print("the whole chart again, picture kept", quartilesOf(kept), 1e3, "ms");
}

void hover(float pxScale)
{
    Window window;
    window.chart.show({ takeOf(0.2), takeOf(0.9) }, 0, Lie::upright);
    auto image = opaque(juce::roundToInt(ResponseChart::width * pxScale),
                        juce::roundToInt(ResponseChart::height * pxScale));
    std::vector<double> moves;
    for (int round = 0; round < rounds + 1; ++round)
    {
        juce::RectangleList<int> dirty;
        const auto add = [&]
        {
            if (const auto* plumb = window.chart.plumbLine())
                for (const auto& area : plumb->areas())
                    dirty.add(area);
        };
        const auto event = press(window.chart, { static_cast<float>(70 + (round * 37) % 940), 150.0f });
        const double seconds = timed(
            [&]
            {
                add();
                window.chart.mouseMove(event);
                add();
                juce::Graphics g(image);
                g.addTransform(juce::AffineTransform::scale(pxScale));
                g.reduceClipRegion(dirty);
                window.chart.paint(g);
            });
        if (round > 0) // the first makes the picture
            moves.push_back(seconds);
    }
    if (window.chart.chart().timesMade() != 1)
        giveUp("Hovering made the picture anew.");
    char words[64];
    const auto q = quartilesOf(moves);
    std::snprintf(words, sizeof words, "  under 0.5: %s", verdict(1e3 * q.median < 0.5));
    print("plumb line moved and repainted", q, 1e3, "ms", words);
}

}

int main()
{
    const juce::ScopedJuceInitialiser_GUI gui;
    for (const float pxScale : { 1.0f, 2.0f })
    {
        std::printf("The chart of the window at %.0f %%\n", static_cast<double>(100.0f * pxScale));
        fullRepaint(pxScale, 2.0);
        hover(pxScale);
    }
    auto smooth = pairCase(478, 0.0, 1.0f), fine = pairCase(1400, 5.0, 1.0f),
         large = pairCase(478, 0.0, 2.0f);
    compare("Left and right alone, smoothed, 478 points", smooth, 0.6);
    compare("Left and right alone, unsmoothed, 1400 points", fine, 0.3);
    compare("Left and right alone, smoothed, at 200 %", large, 0.6);
    auto twelve = twelveCase(0.0), twelveFine = twelveCase(5.0);
    compare("12 curves with a band each, 1400 points, 1400 x 800, smoothed", twelve, 0.6);
    compare("12 curves with a band each, 1400 points, 1400 x 800, unsmoothed", twelveFine, 0.3);
    return 0;
}
