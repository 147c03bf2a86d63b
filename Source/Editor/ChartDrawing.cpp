#include "Editor/ChartDrawing.h"

#include "Editor/ChartNames.h"
#include "Editor/ChartWords.h"
#include "Editor/CurvePainter.h"

#include <cmath>

namespace plumbline
{

namespace
{

constexpr auto middle = Ink::Anchor::middle;
constexpr auto end = Ink::Anchor::end;

/** The plot in px of the picture. */
struct Pixels
{
    explicit Pixels(const ChartTask& task)
        : scale({ task.scale.area().left * task.pxScale, task.scale.area().top * task.pxScale,
                  task.scale.area().width * task.pxScale, task.scale.area().height * task.pxScale },
                task.scale.top(), task.scale.shape()),
          left(snapped(scale.area().left)), right(static_cast<int>(std::ceil(scale.area().right() - 1e-3))),
          top(snapped(scale.area().top)),
          bottom(snapped(scale.area().bottom())), levels{ static_cast<float>(scale.area().top),
                                                          static_cast<float>(scale.top()),
                                                          static_cast<float>(scale.pxPerDb()) }
    {
    }

    static int snapped(double px) { return static_cast<int>(std::floor(px + 1e-3)); }

    juce::Rectangle<int> plot() const
    {
        return juce::Rectangle<int>::leftTopRightBottom(left, top, right, bottom);
    }

    ChartScale scale;
    int left, right, top, bottom;
    LevelToY levels;
};

void drawHatch(juce::Image::BitmapData& bits, const ChartTask& task, const Pixels& px,
               const std::vector<UnknownRange>& unknown)
{
    CurvePainter painter(bits, px.plot(), px.levels, task.pxScale);
    for (const auto& range : unknown)
        painter.hatch(px.plot()
                          .withLeft(Pixels::snapped(px.scale.x(range.fromHz)))
                          .withRight(Pixels::snapped(px.scale.x(range.toHz)) + 1),
                      task.palette.third, 0.34f);
}

void drawGrid(juce::Graphics& g, const ChartTask& task, const Pixels& px, bool figuresStand)
{
    g.setColour(task.palette.grid);
    for (const double f : octaves)
        g.fillRect(Pixels::snapped(px.scale.x(f)), px.top, 1, px.bottom - px.top);
    for (const auto& each : levelLines(px.scale))
    {
        g.setColour(each.strong && figuresStand ? task.palette.rule : task.palette.grid);
        g.fillRect(px.left, Pixels::snapped(px.scale.y(each.db)), px.right - px.left, 1);
    }
    g.setColour(task.palette.third);
    g.fillRect(px.left, px.bottom, px.right - px.left, 1);
    for (const double f : thirdOctaves)
    {
        const bool octave = std::find(octaves.begin(), octaves.end(), f) != octaves.end();
        g.fillRect(Pixels::snapped(px.scale.x(f)), px.bottom, 1,
                   juce::roundToInt((octave ? 7.0f : 4.0f) * task.pxScale));
    }
}

/** Figures and units of both axes. */
void writeAxes(const Ink& ink, const ChartTask& task, const juce::String& unit)
{
    const auto& area = task.scale.area();
    const auto left = static_cast<float>(area.left) - 8.0f, under = static_cast<float>(area.bottom()) + 20.0f;
    if (unit.isNotEmpty())
        for (const auto& each : levelLines(task.scale))
            if (const auto y = static_cast<float>(task.scale.y(each.db));
                each.strong && y < static_cast<float>(area.bottom()) - 3.0f)
                ink.text(left, y + 4.5f, bound(" " + juce::String(juce::roundToInt(each.db))).trimStart(),
                         13.0f, task.palette.second, Weight::semibold, end);
    for (const double f : octaves)
        ink.text(static_cast<float>(task.scale.x(f)), under, octaveFigure(f), 13.0f, task.palette.second,
                 Weight::semibold, middle);
    ink.text(left, under, unit, 12.5f, task.palette.third, Weight::semibold, end);
    ink.text(static_cast<float>(area.right()) + 6.0f, under, "Hz", 12.5f, task.palette.third,
             Weight::semibold);
}

/** The former take: as wide as the noise lets its level scatter (95 %), and wide enough to be seen. */
void drawBand(CurvePainter& painter, const Pixels& px, const FrequencyResponse& curve, juce::Colour colour,
              float pxScale)
{
    auto upper = curve.levelDb, lower = curve.levelDb;
    const double least = 2.0 * static_cast<double>(pxScale) / px.scale.pxPerDb();
    for (std::size_t i = 0; i < upper.size(); ++i)
    {
        const double spread = curve.sdDb.empty() ? 0.0 : 1.96 * curve.sdDb[i];
        const double half = spread > least ? spread : least; // also where the spread is no number
        upper[i] += half;
        lower[i] -= half;
    }
    painter.band(columnsOf({ curve.frequencyHz, upper, &curve.known }, px.scale),
                 columnsOf({ curve.frequencyHz, lower, &curve.known }, px.scale), colour, 0.35f);
}

void drawCurves(juce::Image::BitmapData& bits, const ChartTask& task, const Pixels& px)
{
    CurvePainter painter(bits, px.plot(), px.levels, task.pxScale);
    const auto& newest = *task.content.curves.newest;
    const auto colour = task.palette.monitor(task.content.monitorRow);
    if (const auto* before = task.content.curves.before.get())
    {
        drawBand(painter, px, before->left, colour, task.pxScale);
        if (before->right)
            drawBand(painter, px, *before->right, colour, task.pxScale);
    }
    if (!newest.left.noiseDb.empty())
        painter.curve(columnsOf({ newest.left.frequencyHz, newest.left.noiseDb, nullptr }, px.scale),
                      { task.palette.second, 1.1f, Lie::upright });
    const auto draw = [&](const FrequencyResponse& response, float width) {
        painter.curve(columnsOf(viewOf(response), px.scale), { colour, width, task.content.lie });
    };
    draw(newest.left, newest.right ? 2.6f : 2.0f);
    if (newest.right)
        draw(*newest.right, 1.4f);
}

void writeEmpty(const Ink& ink, const ChartTask& task)
{
    const auto& area = task.scale.area();
    const auto x = static_cast<float>(area.left + area.width / 2.0);
    const auto y = static_cast<float>(area.top + area.height / 2.0);
    ink.textOnPlot(x, y - 6.0f, chartWords::emptyAnswer(), 15.0f, task.palette.second, Weight::medium,
                   middle);
    ink.textOnPlot(x, y + 18.0f, chartWords::emptyHow(), 15.0f, task.palette.second, Weight::medium, middle);
}

}

void drawChart(juce::Image& picture, const ChartTask& task)
{
    const Pixels px(task);
    const auto* newest = task.content.curves.newest.get();
    const auto unknown = newest != nullptr ? unknownRanges(viewsOf(*newest)) : std::vector<UnknownRange>();
    // A picture is written by one hand at a time.
    {
        juce::Graphics g(picture);
        g.fillAll(task.palette.ground);
    }
    {
        juce::Image::BitmapData bits(picture, juce::Image::BitmapData::readWrite);
        drawHatch(bits, task, px, unknown);
    }
    {
        juce::Graphics g(picture);
        drawGrid(g, task, px, newest != nullptr);
    }
    if (newest != nullptr)
    {
        juce::Image::BitmapData bits(picture, juce::Image::BitmapData::readWrite);
        drawCurves(bits, task, px);
    }
    juce::Graphics g(picture);
    g.addTransform(juce::AffineTransform::scale(task.pxScale));
    const Ink ink(g, task.palette);
    writeAxes(ink, task, newest != nullptr ? chartWords::unit(newest->levelIsSpl) : juce::String());
    if (newest == nullptr)
        writeEmpty(ink, task);
    else
        writeNames(ink, task, unknown);
}

}
