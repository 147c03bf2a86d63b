// The board's keyboard, and which part of it is seen.

#include "Editor/Board.h"

namespace plumbline
{

namespace
{

using Key = juce::KeyPress;

constexpr float turnOfRow = 0.15f; ///< of the mouse wheel: one notch, or so

juce::String counted(int count, const char* one, const char* many, const char* where)
{
    return juce::String(count) + " " + (count == 1 ? one : many) + " " + where;
}

/** Whole rows in what was turned; the rest stays. */
int takeTurns(float& turned)
{
    const int whole = static_cast<int>(turned / turnOfRow);
    turned -= static_cast<float>(whole) * turnOfRow;
    return whole;
}

}

juce::Component* Board::at(Spot spot) const
{
    const auto row = static_cast<std::size_t>(spot.row), column = static_cast<std::size_t>(spot.column);
    if (spot.row < 0 || row >= lines.size())
        return nullptr;
    if (!isNamed(spot.row))
        return lines[row].name.get();
    return spot.column >= 0 && column < lines[row].cells.size() ? lines[row].cells[column].get() : nullptr;
}

/** By Tab the keyboard comes back to where it was; otherwise it is now here. */
void Board::focusCame(Spot spot, FocusChangeType cause)
{
    if (cause == focusChangedByTabKey && !(spot == current) && at(current) != nullptr)
        return focusAt(current);
    current = spot;
    reveal(spot);
}

void Board::focusAt(Spot spot)
{
    if (at(spot) == nullptr)
        spot = { static_cast<int>(lines.size()) - 1, 0 };
    current = spot;
    reveal(spot);
    if (auto* part = at(spot); part != nullptr && part->isShowing())
        part->grabKeyboardFocus();
}

bool Board::keyPressed(const Key& key)
{
    if (key.isKeyCode(Key::tabKey))
        return leave(!key.getModifiers().isShiftDown());
    if (typed.isTyping())
        return false;
    if (key == Key(Key::F2Key))
    {
        beginNaming(static_cast<std::size_t>(current.row));
        return true;
    }
    if (key == Key(Key::upKey) || key == Key(Key::downKey))
        return move(key.isKeyCode(Key::upKey) ? -1 : 1, 0);
    if (key == Key(Key::leftKey) || key == Key(Key::rightKey))
        return move(0, key.isKeyCode(Key::leftKey) ? -1 : 1);
    return false;
}

bool Board::move(int rows, int columns)
{
    const int lastRow = static_cast<int>(lines.size()) - 1;
    const int lastColumn = static_cast<int>(state.columns.size()) - 1;
    focusAt({ std::clamp(current.row + rows, 0, std::max(0, lastRow)),
              std::clamp(current.column + columns, 0, std::max(0, lastColumn)) });
    return true;
}

/** The keyboard goes on to what comes after the board, or to what comes before it. */
bool Board::leave(bool forwards)
{
    auto* edge = getCurrentlyFocusedComponent();
    if (edge == nullptr || !isParentOf(edge))
        return false;
    const auto order = edge->createKeyboardFocusTraverser();
    const auto next = [&]
    { return forwards ? order->getNextComponent(edge) : order->getPreviousComponent(edge); };
    for (auto* other = next(); other != nullptr && isParentOf(other); other = next())
        edge = other;
    edge->moveKeyboardFocusToSibling(forwards);
    return true;
}

void Board::reveal(Spot spot)
{
    const auto from = [](int first, int wanted, int seen)
    { return std::clamp(first, wanted - seen + 1, wanted); };
    const int column = isNamed(spot.row) ? spot.column : firstColumn;
    scrollBy(from(firstRow, spot.row, rowsSeen) - firstRow,
             from(firstColumn, column, columnsSeen) - firstColumn);
}

void Board::scrollBy(int rowsDown, int columnsRight)
{
    const int lastRow = std::max(0, static_cast<int>(lines.size()) - rowsSeen);
    const int lastColumn = std::max(0, static_cast<int>(state.columns.size()) - columnsSeen);
    firstRow = std::clamp(firstRow + rowsDown, 0, lastRow);
    firstColumn = std::clamp(firstColumn + columnsRight, 0, lastColumn);
    layOut();
}

void Board::mouseWheelMove(const juce::MouseEvent&, const juce::MouseWheelDetails& wheel)
{
    if (typed.isTyping())
        return;
    wheelled -= wheel.deltaY;
    wheelledAcross -= wheel.deltaX;
    const int rowsDown = takeTurns(wheelled), columnsRight = takeTurns(wheelledAcross);
    if (rowsDown != 0 || columnsRight != 0)
        scrollBy(rowsDown, columnsRight);
}

/** What is to be found by scrolling; empty if all is seen. */
juce::String Board::hiddenWords() const
{
    const int below = static_cast<int>(lines.size()) - firstRow - rowsSeen;
    const int right = static_cast<int>(state.columns.size()) - firstColumn - columnsSeen;
    if (firstRow == 0 && below == 1 && state.canName && firstColumn == 0 && right <= 0)
        return choosable ? "One more pair can be named below" : "";
    juce::StringArray hidden;
    if (firstRow > 0)
        hidden.add(counted(firstRow, "row", "rows", "above"));
    if (below > 0)
        hidden.add(counted(below, "row", "rows", "below"));
    if (firstColumn > 0)
        hidden.add(counted(firstColumn, "column", "columns", "at the left"));
    if (right > 0)
        hidden.add(counted(right, "column", "columns", "at the right"));
    return hidden.isEmpty() ? juce::String() : "More: " + hidden.joinIntoString(", ");
}

}
