#include "Editor/MonitorFigure.h"

#include <algorithm>

namespace plumbline
{

namespace
{

// A usual two-way cabinet, cm.
constexpr double usualWide = 20.0, usualHigh = 31.0, usualSpacing = 16.6, usualMiddle = 19.0;
constexpr double conePerWidth = 0.32;   ///< radius
constexpr double conePerWoofer = 0.465; ///< radius, of the nominal diameter
constexpr double tweeterRadius = 2.1, edge = 0.5;
constexpr float corner = 1.6f;

juce::Path circle(juce::Point<float> middle, float radius)
{
    juce::Path path;
    path.addEllipse(middle.x - radius, middle.y - radius, 2.0f * radius, 2.0f * radius);
    return path;
}

void fill(const Ink& ink, const juce::Path& path, juce::Colour colour)
{
    ink.graphics().setColour(colour);
    ink.graphics().fillPath(path);
}

}

CabinetFront frontOf(const Monitor& monitor)
{
    const double high =
        monitor.heightCm.value_or(monitor.widthCm.value_or(usualWide) * usualHigh / usualWide);
    const double wide = monitor.widthCm.value_or(high * usualWide / usualHigh);
    const double wanted =
        monitor.wooferCm ? *monitor.wooferCm * conePerWoofer : conePerWidth * std::min(wide, 0.7 * high);
    const double cone = std::min({ wanted, 0.45 * wide, 0.3 * high });
    const double spacing = monitor.driverSpacingCm.value_or(high * usualSpacing / usualHigh);
    const double lowest = cone + edge;
    const double highest = std::max(lowest, high - tweeterRadius - edge);
    const double tweeter = std::clamp(high * usualMiddle / usualHigh + spacing / 2.0, lowest, highest);
    const double woofer = std::clamp(tweeter - spacing, lowest, tweeter);
    return { wide, high, cone, woofer, std::clamp(woofer + spacing, woofer, highest) };
}

float commonScale(const std::vector<Monitor>& monitors, float usual, float width, float height)
{
    float scale = usual;
    for (const auto& monitor : monitors)
    {
        const auto front = frontOf(monitor);
        const auto largest = static_cast<float>(std::max(front.wide, front.high));
        scale = std::min({ scale, width / largest, height / largest });
    }
    return scale;
}

MonitorFigure::MonitorFigure(const Monitor& monitor, float pxPerCm)
    : front(frontOf(monitor)), scale(pxPerCm), pair(monitor.kind == Monitor::Kind::pair)
{
}

std::vector<float> MonitorFigure::middles(float x, float gap) const
{
    return pair ? std::vector<float>{ x, x + gap } : std::vector<float>{ x + gap / 2.0f };
}

juce::Rectangle<float> MonitorFigure::cabinet(juce::Point<float> foot, Lie lie) const
{
    const bool lies = lie == Lie::sideOut || lie == Lie::sideIn;
    const auto width = static_cast<float>(lies ? front.high : front.wide) * scale;
    const auto height = static_cast<float>(lies ? front.wide : front.high) * scale;
    return { foot.x - width / 2.0f, foot.y - height, width, height };
}

MonitorFigure::Drivers MonitorFigure::drivers(juce::Point<float> foot, Lie lie, bool left) const
{
    const auto box = cabinet(foot, lie);
    const auto woofer = static_cast<float>(front.woofer) * scale;
    const auto tweeter = static_cast<float>(front.tweeter) * scale;
    if (lie != Lie::sideOut && lie != Lie::sideIn)
        return { { foot.x, foot.y - woofer }, { foot.x, foot.y - tweeter } };
    // Lying, the foot of the cabinet is on the side away from the tweeter.
    const bool tweeterAtLeft = left == (lie == Lie::sideOut);
    const auto along = [&](float fromFoot)
    {
        return juce::Point<float>(tweeterAtLeft ? box.getRight() - fromFoot : box.getX() + fromFoot,
                                  box.getCentreY());
    };
    return { along(woofer), along(tweeter) };
}

void MonitorFigure::draw(const Ink& ink, juce::Point<float> leftFoot, float gap, Lie lie,
                         const Style& style) const
{
    bool left = true;
    for (const auto x : middles(leftFoot.x, gap))
    {
        const juce::Point<float> foot(x, leftFoot.y);
        drawCabinet(ink, foot, lie, style);
        drawDrivers(ink, drivers(foot, lie, left), style);
        left = false;
    }
}

void MonitorFigure::drawCabinet(const Ink& ink, juce::Point<float> foot, Lie lie, const Style& style) const
{
    juce::Path face;
    face.addRoundedRectangle(cabinet(foot, lie), corner);
    if (style.tint > 0.0f)
        fill(ink, face, style.colour.withMultipliedAlpha(style.tint));
    if (style.dashed)
        ink.stroke(face, style.colour, style.lineWidth, { 2.0f, 2.5f });
    else
        ink.stroke(face, style.colour, style.lineWidth);
}

void MonitorFigure::drawDrivers(const Ink& ink, const Drivers& at, const Style& style) const
{
    const auto cone = static_cast<float>(front.cone) * scale;
    const auto dome = std::max(1.5f, static_cast<float>(tweeterRadius) * scale);
    if (style.dashed)
    {
        const auto fainter = style.colour.withMultipliedAlpha(0.8f);
        ink.stroke(circle(at.woofer, cone), fainter, style.lineWidth);
        ink.stroke(circle(at.tweeter, dome), fainter, style.lineWidth);
        return;
    }
    ink.stroke(circle(at.woofer, cone), style.colour, style.lineWidth);
    fill(ink, circle(at.woofer, std::max(0.8f, cone * 0.28f)), style.colour);
    fill(ink, circle(at.tweeter, dome), style.colour);
}

}
