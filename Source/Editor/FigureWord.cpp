#include "Editor/FigureWord.h"

namespace plumbline
{

namespace
{
constexpr int stepsOfPage = 10, pxOfStep = 5, pxOfClick = 3;
}

FigureWord::FigureWord(WindowContext& windowContext, const juce::String& title,
                       const FigureRange& figureRange)
    : SentenceWord(windowContext, title), range(figureRange), first(figureRange.least),
      entry(windowContext, title)
{
    setMouseCursor(juce::MouseCursor::UpDownResizeCursor);
    entry.onDone = [this](const juce::String& words)
    {
        grabKeyboardFocus();
        type(words);
    };
    entry.onAbandoned = [this] { grabKeyboardFocus(); };
}

void FigureWord::setValue(std::optional<double> newValue)
{
    if (newValue == value)
        return;
    value = newValue;
    wordsChanged();
}

void FigureWord::setUnknown(const juce::String& words, double stepFrom)
{
    mayBeUnknown = true;
    unknownWords = words;
    first = stepFrom;
    wordsChanged();
}

juce::String FigureWord::shown() const
{
    const auto figure = dragged ? dragged : value;
    return figure ? figureWords(*figure, range) : unknownWords;
}

void FigureWord::type(const juce::String& words)
{
    const auto read = figureRead(words, range, mayBeUnknown);
    if (onRemark != nullptr)
        onRemark(read.remark);
    if (read.understood)
        change(read.value);
}

void FigureWord::change(std::optional<double> newValue)
{
    if (newValue == value)
        return;
    setValue(newValue);
    if (onChanged != nullptr)
        onChanged(newValue);
}

double FigureWord::stepped(double from, int steps) const
{
    return juce::jlimit(range.least, range.most, from + steps * range.step);
}

void FigureWord::open()
{
    if (getParentComponent() == nullptr)
        return;
    getParentComponent()->addChildComponent(entry);
    entry.setBounds(getBounds().reduced(1, 2).withWidth(juce::jmax(getWidth() - 2, 88)));
    const auto at = value ? figureWords(*value, range) : juce::String();
    entry.begin(range.unit.isEmpty() ? at : at.upToFirstOccurrenceOf(said("\u00a0"), false, false),
                range.unit);
}

bool FigureWord::keyPressed(const juce::KeyPress& key)
{
    int steps = 0;
    if (key.isKeyCode(juce::KeyPress::upKey))
        steps = 1;
    else if (key.isKeyCode(juce::KeyPress::downKey))
        steps = -1;
    else if (key.isKeyCode(juce::KeyPress::pageUpKey))
        steps = stepsOfPage;
    else if (key.isKeyCode(juce::KeyPress::pageDownKey))
        steps = -stepsOfPage;
    if (steps == 0)
        return SentenceWord::keyPressed(key);
    if (onRemark != nullptr)
        onRemark({});
    change(value ? stepped(*value, steps) : first);
    return true;
}

void FigureWord::mouseDown(const juce::MouseEvent&)
{
    grabKeyboardFocus();
}

void FigureWord::mouseDrag(const juce::MouseEvent& event)
{
    const int up = -event.getDistanceFromDragStartY();
    if (!dragged && std::abs(up) <= pxOfClick)
        return;
    dragged = stepped(value.value_or(first), up / pxOfStep);
    wordsChanged();
}

void FigureWord::mouseUp(const juce::MouseEvent& event)
{
    if (!dragged)
    {
        if (getLocalBounds().contains(event.getPosition()))
            open();
        return;
    }
    const auto letGo = dragged;
    dragged.reset();
    if (onRemark != nullptr)
        onRemark({});
    change(letGo);
    wordsChanged();
}

}
