#include "Editor/PracticePlan.h"

#include "Editor/Figures.h"

namespace plumbline
{

namespace
{
// The room of the usual practice scenario, m: x from the front wall, y from the left one.
constexpr float roomDepth = 5.2f, roomWidth = 4.1f;
constexpr float frontX = 1.12f, axisY = 2.0f, halfApart = 0.74f, toeInDegrees = 15.0f;
constexpr float seatX = 2.33f, seatY = 2.0f;
constexpr float deskFromX = 1.42f, deskToX = 1.97f, deskFromY = 1.3f, deskToY = 2.7f;

const char* sentences =
    "5.2 × 4.1 × 2.7 m, treated, with a desk. What a perfect microphone would read is known in "
    "it, so you can see how near a take comes before you trust one of your own.";
}

PracticePlan::PracticePlan(WindowContext& windowContext) : Part(windowContext)
{
    setInterceptsMouseClicks(false, false);
    setTitle("The practice room");
    setDescription(said(sentences));
}

void PracticePlan::paint(juce::Graphics& g)
{
    const auto pen = ink(g);
    const float m = juce::jmin(30.0f, (static_cast<float>(getHeight()) - 2.0f) / roomWidth);
    pen.box({ 0.5f, 0.5f, roomDepth * m, roomWidth * m }, palette().third, 1.0f, 1.25f);
    for (const float side : { -1.0f, 1.0f })
    {
        const float x = frontX * m, y = (axisY + side * halfApart) * m;
        juce::Path cabinet;
        cabinet.addRoundedRectangle(x - 9.0f, y - 5.0f, 9.0f, 10.0f, 1.0f);
        cabinet.applyTransform(
            juce::AffineTransform::rotation(-side * juce::degreesToRadians(toeInDegrees), x, y));
        pen.stroke(cabinet, palette().second, 1.25f);
    }
    pen.box({ deskFromX * m, deskFromY * m, (deskToX - deskFromX) * m, (deskToY - deskFromY) * m },
            palette().third.withAlpha(0.6f), 1.0f);
    juce::Path seat;
    seat.addEllipse(seatX * m - 3.4f, seatY * m - 3.4f, 6.8f, 6.8f);
    pen.stroke(seat, palette().ink, 1.6f);
    pen.text(seatX * m + 10.0f, seatY * m + 4.5f, "the seat", 13.0f, palette().second, Weight::semibold);
    const float x = 5.2f * 30.0f + 26.0f;
    pen.text(x, 12.0f, "The practice room", 14.0f, palette().ink, Weight::semibold);
    pen.paragraph(x, 34.0f, said(sentences), static_cast<float>(width) - x - 4.0f, 14.0f, 19.0f,
                  palette().second, Weight::semibold);
}

}
