#include "Editor/PairDrawing.h"

#include "Editor/Figures.h"

namespace plumbline
{

namespace
{
using Point = juce::Point<float>;
constexpr float leftX = 4.0f, floorY = 232.0f, tweeterRadiusCm = 2.1f;

/** A dimension: a hairline with a tick at each end, its figure on the line. */
void dimension(const Ink& pen, Point from, Point to, const juce::String& figure)
{
    const auto across = to - from;
    const auto unit = across / from.getDistanceFrom(to);
    const Point tick{ -unit.y * 4.0f, unit.x * 4.0f };
    const auto& colours = pen.colours();
    pen.line(from.x, from.y, to.x, to.y, colours.third);
    for (const auto& end : { from, to })
        pen.line(end.x - tick.x, end.y - tick.y, end.x + tick.x, end.y + tick.y, colours.third);
    const auto middle = (from + to) / 2.0f;
    const float width = textWidth(figure, 13.0f, Weight::semibold);
    pen.plate({ middle.x - width / 2.0f - 5.0f, middle.y - 8.0f, width + 10.0f, 15.6f }, colours.ground,
              0.0f);
    pen.text(middle.x, middle.y + 4.4f, figure, 13.0f, colours.ink, Weight::semibold, Ink::Anchor::middle);
}

juce::String figure(double cm)
{
    return figureWords(cm, { 0.0, 1e4, 0.1, 1, {} });
}
}

PairDrawing::PairDrawing(WindowContext& windowContext) : Part(windowContext)
{
    setInterceptsMouseClicks(false, false);
}

void PairDrawing::show(const Monitor* toShow, std::size_t monitorRow)
{
    const auto wanted = toShow != nullptr ? std::optional(*toShow) : std::nullopt;
    if (wanted == monitor && monitorRow == row)
        return;
    monitor = wanted;
    row = monitorRow;
    setTitle(monitor ? juce::String(monitor->name) + " from the front, drawn from what you type"
                     : juce::String("Nothing is drawn yet"));
    repaint();
}

PairDrawing::Front PairDrawing::front() const
{
    const double high = monitor->heightCm.value_or(31.0);
    const double wide = monitor->widthCm.value_or(juce::jmin(20.0, 0.65 * high));
    const double cone = 0.32 * juce::jmin(wide, 0.7 * high);
    const double spacing = juce::jmin(monitor->driverSpacingCm.value_or(0.53 * high), high - 4.0);
    const double foot =
        juce::jmin(cone + 0.08 * high, juce::jmax(0.0, high - spacing - tweeterRadiusCm - 1.0));
    return { wide, high, cone, foot, foot + spacing, !monitor->heightCm || !monitor->widthCm };
}

void PairDrawing::drawDrivers(const Ink& pen, const Front& shape, Point woofer, Point tweeter,
                              float scale) const
{
    const auto colour = palette().monitor(row);
    const auto circle = [&](Point at, float radius, bool filled)
    {
        juce::Path path;
        path.addEllipse(at.x - radius, at.y - radius, 2.0f * radius, 2.0f * radius);
        pen.graphics().setColour(colour);
        filled ? pen.graphics().fillPath(path) : pen.stroke(path, colour, scale > 3.0f ? 1.6f : 1.35f);
    };
    const float cone = static_cast<float>(shape.cone) * scale;
    circle(woofer, cone, false);
    circle(woofer, cone * 0.28f, true);
    circle(tweeter, juce::jmax(1.5f, tweeterRadiusCm * scale), true);
}

void PairDrawing::drawUpright(const Ink& pen, const Front& shape, Spot spot) const
{
    const float w = static_cast<float>(shape.wide) * spot.scale,
                h = static_cast<float>(shape.high) * spot.scale;
    const auto colour = palette().monitor(row);
    juce::Path cabinet;
    cabinet.addRoundedRectangle(spot.x - w / 2.0f, spot.floor - h, w, h, 4.0f);
    pen.graphics().setColour(colour.withAlpha(0.10f));
    pen.graphics().fillPath(cabinet);
    if (shape.guessed)
        pen.stroke(cabinet, colour, 1.6f, { 2.0f, 2.5f });
    else
        pen.stroke(cabinet, colour, 1.6f);
    drawDrivers(pen, shape, { spot.x, spot.floor - static_cast<float>(shape.woofer) * spot.scale },
                { spot.x, spot.floor - static_cast<float>(shape.tweeter) * spot.scale }, spot.scale);
}

void PairDrawing::drawLying(const Ink& pen, const Front& shape, Spot spot, bool tweeterRight) const
{
    const float w = static_cast<float>(shape.high) * spot.scale,
                h = static_cast<float>(shape.wide) * spot.scale;
    const auto colour = palette().monitor(row);
    juce::Path cabinet;
    cabinet.addRoundedRectangle(spot.x - w / 2.0f, spot.floor - h, w, h, 1.6f);
    pen.graphics().setColour(colour.withAlpha(0.10f));
    pen.graphics().fillPath(cabinet);
    if (shape.guessed)
        pen.stroke(cabinet, colour, 1.35f, { 2.0f, 2.5f });
    else
        pen.stroke(cabinet, colour, 1.35f);
    const float way = tweeterRight ? 1.0f : -1.0f;
    const auto along = [&](double fromFoot)
    {
        return Point{ spot.x + way * (static_cast<float>(fromFoot) * spot.scale - w / 2.0f),
                      spot.floor - h / 2.0f };
    };
    drawDrivers(pen, shape, along(shape.woofer), along(shape.tweeter), spot.scale);
}

void PairDrawing::drawFigures(const Ink& pen, const Front& shape, Spot left, float spacingX) const
{
    const float halfWide = static_cast<float>(shape.wide) * left.scale / 2.0f;
    const auto up = [&](double cm) { return left.floor - static_cast<float>(cm) * left.scale; };
    if (monitor->heightCm)
        dimension(pen, { leftX + 24.0f, up(shape.high) }, { leftX + 24.0f, left.floor },
                  figure(*monitor->heightCm));
    if (monitor->widthCm)
        dimension(pen, { left.x - halfWide, left.floor + 17.0f }, { left.x + halfWide, left.floor + 17.0f },
                  figure(*monitor->widthCm));
    if (monitor->driverSpacingCm)
        dimension(pen, { spacingX, up(shape.tweeter) }, { spacingX, up(shape.woofer) },
                  figure(*monitor->driverSpacingCm));
}

void PairDrawing::drawLyingPair(const Ink& pen, const Front& shape, float floor, Lie lie) const
{
    constexpr float firstX = 398.0f, apart = 84.0f, from = 360.0f, to = 520.0f;
    const float scale =
        juce::jmin(2.3f, 66.0f / static_cast<float>(shape.high), 58.0f / static_cast<float>(shape.wide));
    const bool out = lie == Lie::sideOut;
    const bool pair = monitor->kind == Monitor::Kind::pair;
    drawLying(pen, shape, { pair ? firstX : firstX + apart / 2.0f, floor - 1.5f, scale }, !out);
    if (pair)
        drawLying(pen, shape, { firstX + apart, floor - 1.5f, scale }, out);
    juce::Path shelf;
    shelf.startNewSubPath(from, floor);
    shelf.lineTo(to, floor);
    pen.lieLine(shelf, lie, palette().monitor(row), 2.2f);
    pen.text(from, floor + 22.0f, out ? "side, tweeters out" : "side, tweeters in", 13.0f, palette().second,
             Weight::semibold);
}

void PairDrawing::paint(juce::Graphics& g)
{
    const auto pen = ink(g);
    pen.text(leftX, 22.0f, "Drawn from what you type", 16.0f, palette().ink, Weight::semibold);
    if (!monitor)
    {
        pen.text(leftX, 44.0f, "Nothing is named yet. The first pair will stand here, to scale.", 14.0f,
                 palette().second, Weight::medium);
        return;
    }
    const auto shape = front();
    const bool pair = monitor->kind == Monitor::Kind::pair;
    const juce::String rest = shape.guessed ? " from the front; dashed until height and width are known"
                                            : " from the front, to scale, in centimetres";
    pen.text(leftX, 44.0f, fitted(juce::String(monitor->name), 180.0f, 14.0f, Weight::medium) + rest, 14.0f,
             palette().second, Weight::medium);
    const float scale =
        juce::jmin(5.3f, 160.0f / static_cast<float>(shape.high), 116.0f / static_cast<float>(shape.wide));
    const Spot left{ 102.0f, floorY, scale };
    pen.line(leftX, floorY, 312.0f, floorY, palette().third.withAlpha(0.5f));
    drawUpright(pen, shape, left);
    if (pair)
    {
        drawUpright(pen, shape, { 252.0f, floorY, scale });
        pen.text(252.0f, floorY + 22.0f, "right, the same", 13.0f, palette().second, Weight::semibold,
                 Ink::Anchor::middle);
    }
    drawFigures(pen, shape, left, 177.0f);
    drawLyingPair(pen, shape, 136.0f, Lie::sideOut);
    drawLyingPair(pen, shape, floorY, Lie::sideIn);
}

}
