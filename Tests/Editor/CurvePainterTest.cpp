// What could pass here for the wrong reason: a line that looks right where it is level. So thickness is told
// by its closed form on slopes (a line w thick covers w sqrt(1 + s^2) of each column), pixels are compared
// with juce::Path's strokes on curves, and a stroke half a pixel off must be seen to be worse.

#include "Editor/CurvePainter.h"

#include "Support/DrawnTakes.h"

#include <catch2/catch.hpp>

using namespace plumbline;
using namespace plumbline::test;

namespace
{

constexpr int wide = 952, high = 320;

/** A white curve on black: a pixel's value is how much of it is covered. */
struct Canvas
{
    explicit Canvas(float pxScale = 1.0f)
        : scale(pxScale),
          image(juce::Image::RGB, juce::roundToInt(wide * pxScale), juce::roundToInt(high * pxScale), true),
          chart({ 0.0, 0.0, wide * static_cast<double>(pxScale), high * static_cast<double>(pxScale) }, 95.0)
    {
    }

    LevelToY levels() const { return { 0.0f, 95.0f, static_cast<float>(chart.pxPerDb()) }; }

    template <class Draw>
    void paint(Draw&& draw)
    {
        juce::Image::BitmapData bits(image, juce::Image::BitmapData::readWrite);
        CurvePainter painter(bits, image.getBounds(), levels(), scale);
        draw(painter);
    }

    void curve(const FrequencyResponse& response, const CurvePainter::Look& look)
    {
        const auto columns = columnsOf({ response.frequencyHz, response.levelDb, &response.known }, chart);
        paint([&](CurvePainter& painter) { painter.curve(columns, look); });
    }

    double at(int x, int y) const { return image.getPixelAt(x, y).getRed() / 255.0; }

    double column(int x) const
    {
        double sum = 0.0;
        for (int y = 0; y < image.getHeight(); ++y)
            sum += at(x, y);
        return sum;
    }

    double columns(int from, int to) const
    {
        double sum = 0.0;
        for (int x = from; x < to; ++x)
            sum += column(x);
        return sum;
    }

    float scale;
    juce::Image image;
    ChartScale chart;
};

const auto white = juce::Colours::white;

/** Two points: a straight line from one corner of the scale to the other. */
FrequencyResponse straight(double dbAt20, double dbAt20k)
{
    FrequencyResponse line;
    line.frequencyHz = { 20.0, 20000.0 };
    line.levelDb = { dbAt20, dbAt20k };
    line.known = { true, true };
    return line;
}

/** A steep line in the middle: `slope` px down per px across. */
FrequencyResponse steep(const Canvas& canvas, double slope)
{
    const double half = 0.5 * 200.0 / slope, middle = 476.3;
    FrequencyResponse line;
    line.frequencyHz = { 20.0, canvas.chart.frequency(middle - half), canvas.chart.frequency(middle + half),
                         20000.0 };
    line.levelDb = { canvas.chart.level(60.0), canvas.chart.level(60.0), canvas.chart.level(260.0),
                     canvas.chart.level(260.0) };
    line.known = { true, true, true, true };
    return line;
}

juce::Path pathOf(const FrequencyResponse& response, const ChartScale& chart)
{
    juce::Path path;
    for (std::size_t i = 0; i < response.frequencyHz.size(); ++i)
    {
        const juce::Point<float> place(static_cast<float>(chart.x(response.frequencyHz[i])),
                                       static_cast<float>(chart.y(response.levelDb[i])));
        if (i == 0)
            path.startNewSubPath(place);
        else
            path.lineTo(place);
    }
    return path;
}

/** Mean difference over the pixels that either touches, 0..1. Ends are left out: strokes are cut there. */
double difference(const Canvas& a, const Canvas& b)
{
    double sum = 0.0;
    int touched = 0;
    for (int y = 0; y < a.image.getHeight(); ++y)
        for (int x = 8; x < a.image.getWidth() - 8; ++x)
            if (a.at(x, y) > 0.0 || b.at(x, y) > 0.0)
            {
                sum += std::abs(a.at(x, y) - b.at(x, y));
                ++touched;
            }
    REQUIRE(touched > 1000);
    return sum / touched;
}

Canvas stroked(const FrequencyResponse& response, float width, float pxScale, float lower = 0.0f,
               std::initializer_list<float> dashes = {})
{
    Canvas canvas(pxScale);
    juce::Graphics g(canvas.image);
    const auto path = pathOf(response, canvas.chart);
    const juce::PathStrokeType type(width * pxScale, juce::PathStrokeType::curved);
    juce::Path outline;
    if (dashes.size() > 0)
    {
        std::vector<float> lengths;
        for (const float each : dashes)
            lengths.push_back(each * pxScale);
        type.createDashedStroke(outline, path, lengths.data(), static_cast<int>(lengths.size()));
    }
    else
        type.createStrokedPath(outline, path);
    outline.applyTransform(juce::AffineTransform::translation(0.0f, lower));
    g.setColour(white);
    g.fillPath(outline);
    return canvas;
}

}

TEST_CASE("A line has its true thickness on every slope")
{
    for (const float width : { 1.0f, 1.4f, 2.0f, 2.6f, 5.2f })
        for (const double db : { 0.0, 10.0, 30.0, 46.0 })
        {
            Canvas canvas;
            canvas.curve(straight(93.0, 93.0 - db), { white, width });
            const double slope = db * canvas.chart.pxPerDb() / wide;
            INFO(width << " px at slope " << slope);
            CHECK(canvas.columns(100, 900) / 800.0 ==
                  Approx(width * std::sqrt(1.0 + slope * slope)).epsilon(0.012));
        }
}

TEST_CASE("Steep lines are as thick as level ones, measured across")
{
    for (const double slope : { 1.0, 3.0, 10.0, 40.0, 150.0 })
        for (const float width : { 1.4f, 2.6f })
        {
            Canvas canvas;
            canvas.curve(steep(canvas, slope), { white, width });
            double sum = 0.0;
            for (int y = 100; y < 220; ++y)
                for (int x = 0; x < wide; ++x)
                    sum += canvas.at(x, y);
            INFO(width << " px at slope " << slope);
            CHECK(sum / 120.0 == Approx(width * std::sqrt(1.0 + 1.0 / (slope * slope))).epsilon(0.03));
        }
}

TEST_CASE("On smooth curves the pixels are those of a stroked path")
{
    for (const float pxScale : { 1.0f, 2.0f })
        for (const float width : { 1.4f, 2.0f, 2.6f })
        {
            const auto response = drawnResponse(roomLike(0.7));
            Canvas ours(pxScale);
            ours.curve(response, { white, width });
            INFO(width << " px at scale " << pxScale << ": "
                       << difference(ours, stroked(response, width, pxScale)));
            CHECK(difference(ours, stroked(response, width, pxScale)) < 0.02);
            CHECK(difference(ours, stroked(response, width, pxScale, 0.5f)) > 0.08); // the control
        }
}

TEST_CASE("Dashes fall where a dashed path has them")
{
    auto response = drawnResponse(roomLike(0.7));
    response.frequencyHz.front() = 20.0; // so that both begin on the edge of a column
    for (const float pxScale : { 1.0f, 2.0f })
    {
        Canvas ours(pxScale), thread(pxScale);
        ours.curve(response, { white, 2.0f, Lie::sideOut });
        auto theirs = stroked(response, 2.0f, pxScale, 0.0f, { 9.0f, 4.0f });
        thread.curve(response, { white, 1.0f, Lie::upright, 0.5f });
        const auto withThread = [&](Canvas& dashed)
        {
            for (int y = 0; y < dashed.image.getHeight(); ++y)
                for (int x = 0; x < dashed.image.getWidth(); ++x)
                {
                    const auto covered = dashed.at(x, y) + (1.0 - dashed.at(x, y)) * thread.at(x, y);
                    dashed.image.setPixelAt(x, y, juce::Colour::greyLevel(static_cast<float>(covered)));
                }
        };
        withThread(theirs);
        INFO("scale " << pxScale << ": " << difference(ours, theirs));
        CHECK(difference(ours, theirs) < 0.05);
        auto drifting = stroked(response, 2.0f, pxScale, 0.0f, { 9.3f, 4.0f });
        withThread(drifting);
        CHECK(difference(ours, drifting) > 0.1); // the control
    }
}

TEST_CASE("Each lie has its dashes over an unbroken thread of 50 %")
{
    const std::pair<Lie, double> periods[] = { { Lie::sideOut, 13.0 },
                                               { Lie::sideIn, 6.0 },
                                               { Lie::ownWords, 20.0 } };
    const double pi = 3.14159265358979;
    for (const auto& [lie, period] : periods)
        for (const float pxScale : { 1.0f, 2.0f })
        {
            Canvas canvas(pxScale);
            const auto level = canvas.chart.level(160.5 * static_cast<double>(pxScale));
            canvas.curve(straight(level, level), { white, 2.0f, lie });
            const double s = static_cast<double>(pxScale), radius = s;
            // Per period: dashes 2 s thick; elsewhere the thread's 0.5 s; round ends add half discs.
            const double dashes = lie == Lie::sideOut ? 9.0 : lie == Lie::sideIn ? 2.0 : 12.0;
            double expected = dashes * s * 2.0 * s + (period - dashes) * s * 0.5 * s;
            if (lie == Lie::sideIn) // a strip s thick through the middle of the disc was counted as thread
                expected += pi * radius * radius - 0.5 * 2.0 *
                                                       (s / 2.0 * std::sqrt(radius * radius - s * s / 4.0) +
                                                        radius * radius * std::asin(s / 2.0 / radius));
            const int from = juce::roundToInt(period * s), to = from + juce::roundToInt(30.0 * period * s);
            INFO("lie " << static_cast<int>(lie) << ", scale " << pxScale);
            CHECK(canvas.columns(from, to) / 30.0 == Approx(expected).epsilon(0.04));
            double least = 1e9;
            for (int x = from; x < to; ++x)
                least = std::min(least, canvas.column(x));
            CHECK(least == Approx(0.5 * s).epsilon(0.05));
        }
}

TEST_CASE("What is not known goes on at 1 px and 45 %, or not at all")
{
    auto response = drawnResponse([](double) { return 70.0; }, 200.0, 5000.0);
    Canvas canvas;
    const CurvePainter::Look look{ white, 2.6f };
    canvas.curve(response, look);
    const auto inside = static_cast<int>(canvas.chart.x(1000.0)),
               outside = static_cast<int>(canvas.chart.x(50.0));
    CHECK(canvas.column(inside) == Approx(2.6).epsilon(0.01));
    CHECK(canvas.column(outside) == Approx(0.45).epsilon(0.03));
    Canvas none;
    none.curve(response, { white, 2.6f, Lie::upright, 1.0f, false });
    CHECK(none.column(inside) == Approx(2.6).epsilon(0.01));
    CHECK(none.column(outside) == 0.0);
}

TEST_CASE("A band fills between its two curves, as strong as asked, where both are known")
{
    Canvas canvas;
    const auto upper = drawnResponse([](double f) { return 80.0 - 2.0 * std::log2(f / 1000.0); }, 100.0);
    const auto lower =
        drawnResponse([](double f) { return 75.0 - 2.0 * std::log2(f / 1000.0); }, 20.0, 8000.0);
    const auto columns = [&](const FrequencyResponse& r) {
        return columnsOf({ r.frequencyHz, r.levelDb, &r.known }, canvas.chart);
    };
    canvas.paint([&](CurvePainter& painter) { painter.band(columns(upper), columns(lower), white, 0.35f); });
    for (const double f : { 150.0, 1000.0, 7000.0 })
        CHECK(canvas.column(static_cast<int>(canvas.chart.x(f))) ==
              Approx(0.35 * 5.0 * canvas.chart.pxPerDb()).epsilon(0.02));
    CHECK(canvas.column(static_cast<int>(canvas.chart.x(90.0))) == 0.0);
    CHECK(canvas.column(static_cast<int>(canvas.chart.x(9000.0))) == 0.0);
}

TEST_CASE("Nothing is drawn outside the area, however far the curve goes")
{
    for (const auto lie : { Lie::upright, Lie::sideOut, Lie::sideIn })
    {
        Canvas canvas;
        const auto response =
            drawnResponse([](double f) { return f < 300.0    ? -1e7
                                                : f < 3000.0 ? 70.0
                                                             : 1e7; });
        const juce::Rectangle<int> area(100, 50, 600, 200);
        const auto columns =
            columnsOf({ response.frequencyHz, response.levelDb, &response.known }, canvas.chart);
        {
            juce::Image::BitmapData bits(canvas.image, juce::Image::BitmapData::readWrite);
            CurvePainter painter(bits, area, canvas.levels(), 1.0f);
            painter.curve(columns, { white, 2.6f, lie });
            painter.hatch(canvas.image.getBounds(), white, 0.3f);
        }
        double outside = 0.0, inside = 0.0;
        for (int y = 0; y < high; ++y)
            for (int x = 0; x < wide; ++x)
                (area.contains(x, y) ? inside : outside) += canvas.at(x, y);
        CHECK(outside == 0.0);
        CHECK(inside > 400.0);
    }
}

TEST_CASE("A hatch is lines at 45 degrees, 8 px apart")
{
    Canvas canvas;
    canvas.paint([&](CurvePainter& painter) { painter.hatch({ 40, 30, 160, 160 }, white, 1.0f); });
    // Of 8 px across, a line 1 px thick at 45 degrees takes sqrt(2).
    CHECK(canvas.columns(40, 200) / (160.0 * 160.0) == Approx(std::sqrt(2.0) / 8.0).epsilon(0.1));
    for (int k = 0; k < 100; ++k)
    {
        CHECK(canvas.at(60 + k % 80, 100) == Approx(canvas.at(60 + k % 80 + 8, 100)));
        CHECK(canvas.at(60 + k % 80, 100) == Approx(canvas.at(60 + k % 80 + 1, 99)));
    }
}
