#include "Editor/Ink.h"

#include <cmath>

namespace plumbline
{

namespace
{

constexpr float markWidth = 2.4f; ///< of the attend mark's stroke

juce::Path bobShape(float x, float y, float size)
{
    const auto at = [=](float right, float down)
    { return juce::Point<float>(x + right * size, y + down * size); };
    juce::Path shape;
    shape.startNewSubPath(at(-0.2f, 0.0f));
    shape.lineTo(at(0.2f, 0.0f));
    shape.lineTo(at(0.2f, 0.25f));
    shape.cubicTo(at(0.6f, 0.32f), at(0.62f, 0.62f), at(0.46f, 0.84f));
    shape.lineTo(at(0.0f, 1.8f));
    shape.lineTo(at(-0.46f, 0.84f));
    shape.cubicTo(at(-0.62f, 0.62f), at(-0.6f, 0.32f), at(-0.2f, 0.25f));
    shape.closeSubPath();
    return shape;
}

float anchored(float x, float width, Ink::Anchor anchor)
{
    return x - (anchor == Ink::Anchor::end ? width : anchor == Ink::Anchor::middle ? width / 2.0f : 0.0f);
}

}

Lie lieOf(const juce::String& orientation)
{
    if (orientation == "upright")
        return Lie::upright;
    if (orientation == "side, tweeters out")
        return Lie::sideOut;
    if (orientation == "side, tweeters in")
        return Lie::sideIn;
    return Lie::ownWords;
}

float Ink::text(float x, float y, const juce::String& words, float size, juce::Colour colour, Weight weight,
                Anchor anchor) const
{
    const auto width = textWidth(words, size, weight);
    const auto left = anchored(x, width, anchor);
    juce::GlyphArrangement glyphs;
    glyphs.addLineOfText(font(size, weight), words, left, y);
    g.setColour(colour);
    glyphs.draw(g);
    return left + width;
}

float Ink::textOnPlot(float x, float y, const juce::String& words, float size, juce::Colour colour,
                      Weight weight, Anchor anchor) const
{
    const auto width = textWidth(words, size, weight);
    g.setColour(palette.ground.withAlpha(0.88f));
    g.fillRect(juce::Rectangle<float>(anchored(x, width, anchor) - 4.0f, y - size * 0.8f, width + 8.0f,
                                      size * 1.1f));
    return text(x, y, words, size, colour, weight, anchor);
}

float Ink::paragraph(float x, float y, const juce::String& words, float measure, float size, float lead,
                     juce::Colour colour, Weight weight) const
{
    for (const auto& each : brokenIntoLines(words, measure, size, weight))
    {
        text(x, y, each, size, colour, weight);
        y += lead;
    }
    return y;
}

void Ink::line(float x1, float y1, float x2, float y2, juce::Colour colour, float width) const
{
    g.setColour(colour);
    g.drawLine(x1, y1, x2, y2, width);
}

void Ink::stroke(const juce::Path& path, juce::Colour colour, float width,
                 std::initializer_list<float> dashes, bool round) const
{
    const juce::PathStrokeType type(width, juce::PathStrokeType::curved,
                                    round ? juce::PathStrokeType::rounded : juce::PathStrokeType::butt);
    g.setColour(colour);
    if (dashes.size() == 0)
    {
        g.strokePath(path, type);
        return;
    }
    juce::Path dashed;
    type.createDashedStroke(dashed, path, dashes.begin(), static_cast<int>(dashes.size()));
    g.fillPath(dashed);
}

void Ink::lieLine(const juce::Path& path, Lie lie, juce::Colour colour, float width) const
{
    if (lie != Lie::upright)
        stroke(path, colour.withMultipliedAlpha(0.5f), 1.0f);
    switch (lie)
    {
    case Lie::upright:
        return stroke(path, colour, width);
    case Lie::sideOut:
        return stroke(path, colour, width, { 9.0f, 4.0f });
    case Lie::sideIn:
        return stroke(path, colour, width, { 2.0f, 4.0f }, true);
    case Lie::ownWords:
        return stroke(path, colour, width, { 10.0f, 4.0f, 2.0f, 4.0f });
    }
}

void Ink::box(juce::Rectangle<float> area, juce::Colour colour, float radius, float width) const
{
    g.setColour(colour);
    g.drawRoundedRectangle(area.reduced(0.5f), radius, width);
}

void Ink::plate(juce::Rectangle<float> area, juce::Colour colour, float radius) const
{
    g.setColour(colour);
    g.fillRoundedRectangle(area, radius);
}

void Ink::dottedRule(float x1, float x2, float baseline) const
{
    juce::Path path;
    path.startNewSubPath(x1, baseline + 4.5f);
    path.lineTo(x2, baseline + 4.5f);
    stroke(path, palette.second, 1.2f, { 1.2f, 2.4f });
}

void Ink::rule(float y, float x1, float x2) const
{
    const auto pixel = 1.0f / std::max(0.5f, g.getInternalContext().getPhysicalPixelScaleFactor());
    g.setColour(palette.rule);
    g.fillRect(juce::Rectangle<float>(x1, std::round(y / pixel) * pixel, x2 - x1, pixel));
}

void Ink::button(juce::Rectangle<float> area, const juce::String& words, Act act, float size,
                 const juce::String& note) const
{
    const auto filled = act == Act::main || act == Act::stop;
    if (filled)
        plate(area, act == Act::main ? palette.ink : palette.attend);
    else
        box(area, act == Act::plain ? palette.ink : palette.rule, 3.0f, 1.25f);
    const auto colour = filled ? palette.ground : act == Act::plain ? palette.ink : palette.third;
    const auto middle = area.getCentre();
    const auto baseline = note.isEmpty() ? size * 0.33f : -1.0f;
    text(middle.x, middle.y + baseline, words, size, colour, Weight::semibold, Anchor::middle);
    if (note.isNotEmpty())
        text(middle.x, middle.y + 15.0f, note, 12.5f, colour, Weight::semibold, Anchor::middle);
}

float Ink::buttonWidth(const juce::String& words, float size)
{
    return textWidth(words, size, Weight::semibold) + 32.0f;
}

float Ink::link(float x, float y, const juce::String& words, float size) const
{
    const auto end = text(x, y, words, size, palette.ink, Weight::semibold);
    line(x, y + 4.0f, end, y + 4.0f, palette.second);
    return end;
}

void Ink::focusRing(juce::Rectangle<float> area, float radius) const
{
    g.setColour(palette.ink);
    g.drawRoundedRectangle(area.expanded(3.0f), radius, 2.0f);
}

void Ink::bob(float x, float y, float size) const
{
    g.setColour(palette.ink);
    g.fillPath(bobShape(x, y, size));
}

float Ink::attendMark(float x, float baseline, float height) const
{
    line(x + 1.4f, baseline, x + 5.6f, baseline - height, palette.attend, markWidth);
    return x + 11.0f;
}

void Ink::mark(float x, float y, std::size_t row, juce::Colour colour, float radius) const
{
    const auto r = radius;
    juce::Path shape;
    switch (row % palette.monitors.size())
    {
    case 0:
        shape.addEllipse(x - r, y - r, 2.0f * r, 2.0f * r);
        break;
    case 1:
        shape.addRectangle(x - r * 0.88f, y - r * 0.88f, r * 1.76f, r * 1.76f);
        break;
    case 2:
        shape.addTriangle(x, y - r * 1.1f, x + r * 1.1f, y + r * 0.85f, x - r * 1.1f, y + r * 0.85f);
        break;
    case 3:
        shape.addQuadrilateral(x, y - r * 1.2f, x + r * 1.2f, y, x, y + r * 1.2f, x - r * 1.2f, y);
        break;
    case 4:
        g.setColour(colour);
        g.drawEllipse(x - r + 0.8f, y - r + 0.8f, 2.0f * r - 1.6f, 2.0f * r - 1.6f, 2.0f);
        return;
    default:
        shape.addRectangle(x - r * 1.15f, y - r * 0.45f, r * 2.3f, r * 0.9f);
    }
    g.setColour(colour);
    g.fillPath(shape);
}

}
