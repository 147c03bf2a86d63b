#include "Editor/BoardCell.h"

#include "Editor/MonitorFigure.h"

namespace plumbline
{

namespace
{

// Where things stand in a cell, px from its corner.
constexpr float left = BoardCell::ringRoom, top = BoardCell::ringRoom;
constexpr float floorY = top + 39.0f, bottom = top + 46.5f;
constexpr float firstMiddle = left + 24.0f, gap = 42.0f;
constexpr float shelfLeft = left + 4.0f, shelfRight = left + 86.0f;
constexpr float wordsX = left + 91.0f, wordsMeasure = 62.0f, wordsSize = 13.0f;
constexpr float tallyY = top + 13.0f, wordY = top + 30.0f, footY = top + 44.5f;
constexpr float faint = 0.55f, tintOfEnough = 0.16f;

constexpr auto notNow = "Another stance can be chosen when nothing is being taken.";

juce::Path straight(float x1, float x2, float y)
{
    juce::Path path;
    path.startNewSubPath(x1, y);
    path.lineTo(x2, y);
    return path;
}

}

BoardCell::BoardCell(WindowContext& windowContext) : Pressable(windowContext, {})
{
}

void BoardCell::show(const BoardCellState& state, const Monitor& whose, float pxPerCm, std::size_t inRow)
{
    if (state == shown && whose == monitor && pxPerCm == scale && inRow == row)
        return;
    shown = state;
    monitor = whose;
    scale = pxPerCm;
    row = inRow;
    const bool named = !shown.stance.empty();
    setTitle(shown.title());
    setWantsKeyboardFocus(named);
    setInterceptsMouseClicks(named, false);
    setAccessible(named);
    repaint();
}

void BoardCell::setChoosable(bool mayChoose)
{
    choosable = mayChoose;
    setHelpText(choosable ? "" : notNow);
    setMouseCursor(choosable ? juce::MouseCursor::PointingHandCursor : juce::MouseCursor::NormalCursor);
    repaint();
}

void BoardCell::press()
{
    if (choosable && !shown.hereNow)
        Pressable::press();
}

void BoardCell::focusGained(FocusChangeType cause)
{
    Pressable::focusGained(cause);
    if (onFocus != nullptr)
        onFocus(cause);
}

juce::Colour BoardCell::colour() const
{
    return palette().monitor(row);
}

void BoardCell::draw(const Ink& ink)
{
    drawState(ink);
    drawFigure(ink);
    drawShelf(ink);
    if (shown.hereNow)
        drawStands(ink);
    if (!shown.stance.empty())
        drawWords(ink);
}

void BoardCell::drawState(const Ink& ink) const
{
    const juce::Rectangle<float> area(left, top, width, height);
    if (shown.selected)
    {
        ink.plate(area, palette().plate, 4.0f);
        ink.box(area, palette().second, 4.0f);
    }
    else if (isMouseOver() && choosable)
        ink.box(area, palette().rule, 4.0f);
}

void BoardCell::drawFigure(const Ink& ink) const
{
    MonitorFigure::Style style{ colour(), shown.enough() ? tintOfEnough : 0.0f };
    if (!shown.begun())
        style = { shown.asked ? palette().second : palette().third, 0.0f, 1.0f, !shown.asked };
    MonitorFigure(monitor, scale)
        .draw(ink, { firstMiddle, floorY - 1.5f }, gap, lieOf(shown.orientation), style);
}

/** The shelf is the line sample of its curve: strong on the chart, faint off it. */
void BoardCell::drawShelf(const Ink& ink) const
{
    const auto shelf = straight(shelfLeft, shelfRight, floorY);
    if (!shown.begun())
        ink.stroke(shelf, palette().third.withMultipliedAlpha(0.5f), 1.0f);
    else if (shown.onChart)
        ink.lieLine(shelf, lieOf(shown.orientation), colour(), 2.4f);
    else
        ink.lieLine(shelf, lieOf(shown.orientation), colour().withMultipliedAlpha(faint), 1.0f);
}

/** What stands here now stands on stands. */
void BoardCell::drawStands(const Ink& ink) const
{
    for (const auto x : MonitorFigure(monitor, scale).middles(firstMiddle, gap))
    {
        ink.line(x, floorY + 1.0f, x, bottom, palette().ink, 1.6f);
        ink.line(x - 6.0f, bottom, x + 6.0f, bottom, palette().ink, 1.6f);
    }
}

void BoardCell::drawWords(const Ink& ink) const
{
    const auto& colours = palette();
    Tally(shown.groups, shown.begun() ? colour() : colours.ink).draw(ink, wordsX, tallyY, wordsMeasure);
    const auto tone = shown.attend ? colours.attend : shown.asked ? colours.second : colours.third;
    const auto x = shown.attend ? ink.attendMark(wordsX, wordY, 9.0f) : wordsX;
    ink.text(x, wordY, shown.word, wordsSize, tone, Weight::semibold);
    ink.text(wordsX, footY, shown.foot, wordsSize, shown.selected ? colours.ink : colours.second,
             Weight::semibold);
}

}
