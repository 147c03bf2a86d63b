#include "Editor/Tally.h"

#include <algorithm>

namespace plumbline
{

namespace
{

constexpr float thick = 2.6f, usualStride = 6.0f, usualGap = 8.0f, closestStride = 3.6f;
constexpr float footDrop = 2.6f, footOver = 1.5f;

juce::String inWords(int takes)
{
    return juce::String(takes) + " takes";
}

}

int TallyGroup::count(TakeStroke kind) const
{
    return static_cast<int>(std::count(strokes.begin(), strokes.end(), kind));
}

Tally::Tally(std::vector<TallyGroup> setUps, juce::Colour colour) : groups(std::move(setUps)), made(colour)
{
}

float Tally::wanted(float stride, float gap) const
{
    float width = 0.0f;
    for (const auto& group : groups)
        width += (static_cast<float>(group.strokes.size()) - 1.0f) * stride + thick + gap;
    return groups.empty() ? 0.0f : width - gap + footOver;
}

void Tally::draw(const Ink& ink, float x, float y, float measure, float height) const
{
    float stride = usualStride;
    const auto gap = [&] { return usualGap * stride / usualStride; };
    while (stride > closestStride && wanted(stride, gap()) > measure)
        stride -= 0.2f;
    if (wanted(stride, gap()) > measure)
    {
        int takes = 0;
        for (const auto& group : groups)
            takes += group.count(TakeStroke::kept);
        ink.text(x, y, inWords(takes), 12.5f, made, Weight::semibold);
        return;
    }
    for (const auto& group : groups)
    {
        drawGroup(ink, group, x, y, stride, height);
        x += (static_cast<float>(group.strokes.size()) - 1.0f) * stride + thick + gap();
    }
}

void Tally::drawGroup(const Ink& ink, const TallyGroup& group, float x, float y, float stride,
                      float height) const
{
    float end = x;
    for (const auto stroke : group.strokes)
    {
        drawStroke(ink, stroke, end, y, height);
        end += stride;
    }
    end += thick - stride;
    ink.line(x - footOver, y + footDrop, end + footOver, y + footDrop,
             group.begun() ? made : ink.colours().third, 1.3f);
}

void Tally::drawStroke(const Ink& ink, TakeStroke stroke, float x, float y, float height) const
{
    auto& g = ink.graphics();
    if (stroke == TakeStroke::wanted)
    {
        g.setColour(ink.colours().third);
        g.drawRect(juce::Rectangle<float>(x, y - height, thick, height), 0.9f);
        return;
    }
    g.setColour(made);
    if (stroke == TakeStroke::kept)
    {
        g.fillRect(juce::Rectangle<float>(x, y - height, thick, height));
        return;
    }
    g.fillRect(juce::Rectangle<float>(x, y - height, thick, height * 0.38f));
    g.fillRect(juce::Rectangle<float>(x, y - height * 0.38f, thick, height * 0.38f));
    ink.line(x - 3.2f, y - height * 0.30f, x + 5.8f, y - height * 0.70f, ink.colours().attend, 1.6f);
}

}
