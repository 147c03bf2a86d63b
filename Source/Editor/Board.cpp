#include "Editor/Board.h"

#include "Editor/Figures.h"
#include "Editor/MonitorFigure.h"
#include "Editor/StopFirst.h"

namespace plumbline
{

namespace
{

// Where things stand on the board, px.
constexpr int firstTop = 32, rowHeight = 52, cellsLeft = 104, columnWidth = 158;
constexpr int headBaseline = 24, footBaseline = 198;
constexpr float headSize = 12.5f, headMeasure = 146.0f, markX = 4.0f;
constexpr float usualScale = 0.84f, mostWidth = 37.0f, mostHeight = 36.5f;

int rowTop(int rowSeen)
{
    return firstTop + rowHeight * rowSeen;
}

}

Board::Board(WindowContext& windowContext)
    : Part(windowContext), more(windowContext, {}, headSize), typed(windowContext, "Name of the pair")
{
    setTitle("The board");
    setFocusContainerType(FocusContainerType::focusContainer);
    more.setWantsKeyboardFocus(false); // the arrows reach what it shows
    more.onClick = [this]
    {
        const bool atEnd = firstRow + rowsSeen >= static_cast<int>(lines.size());
        scrollBy(atEnd ? -firstRow : 1, 0);
    };
    addChildComponent(more);
    typed.onDone = [this](const juce::String& words) { named(words); };
    typed.onAbandoned = [this] { namingEnded(); };
    addChildComponent(typed);
    viewChanged();
}

std::unique_ptr<juce::AccessibilityHandler> Board::createAccessibilityHandler()
{
    return std::make_unique<juce::AccessibilityHandler>(*this, juce::AccessibilityRole::group);
}

void Board::viewChanged()
{
    auto now = boardFrom(view());
    if (filled && now == state)
        return;
    const auto hereBefore = filled ? spotHere() : Spot{ -1, -1 };
    state = std::move(now);
    filled = true;
    fitLines();
    for (std::size_t row = 0; row < lines.size(); ++row)
        fillLine(row);
    if (const auto here = spotHere(); !(here == hereBefore) && here.row >= 0)
    {
        if (!hasKeyboardFocus(true))
            current = here;
        reveal(here);
    }
    scrollBy(0, 0);
    if (auto* focused = dynamic_cast<BoardName*>(getCurrentlyFocusedComponent());
        focused != nullptr && isParentOf(focused) && !focused->asksForName())
        focusAt({ static_cast<int>(state.rows.size()), 0 }); // it has its name: the next one
    repaint();
}

void Board::liveChanged()
{
    if (choosableNow() == choosable)
        return;
    choosable = !choosable;
    for (auto& line : lines)
        for (auto& each : line.cells)
            each->setChoosable(choosable);
    layOut();
}

/** While a take sounds, or is about to, what stands here is what it is filed under. */
bool Board::choosableNow() const
{
    return !stopComesFirst(context.live);
}

/** The cell of the stance that stands here; a row of -1 if that was not told. */
Board::Spot Board::spotHere() const
{
    for (std::size_t row = 0; row < state.rows.size(); ++row)
        for (std::size_t column = 0; column < state.rows[row].cells.size(); ++column)
            if (state.rows[row].cells[column].hereNow)
                return { static_cast<int>(row), static_cast<int>(column) };
    return { -1, -1 };
}

/** As many components as there are things to show; those that are there stay. */
void Board::fitLines()
{
    lines.resize(std::min(lines.size(), state.rows.size() + (state.canName ? 1 : 0)));
    while (lines.size() < state.rows.size() + (state.canName ? 1 : 0))
        lines.push_back(makeLine(static_cast<int>(lines.size())));
    for (std::size_t row = 0; row < lines.size(); ++row)
    {
        auto& cells = lines[row].cells;
        cells.resize(std::min(cells.size(), state.columns.size()));
        while (cells.size() < state.columns.size())
            cells.push_back(makeCell(static_cast<int>(row), static_cast<int>(cells.size())));
    }
}

Board::Line Board::makeLine(int row)
{
    Line line{ std::make_unique<BoardName>(context), {} };
    line.name->onName = [this, row] { beginNaming(static_cast<std::size_t>(row)); };
    line.name->onFocus = [this, row](FocusChangeType cause) { focusCame({ row, current.column }, cause); };
    addChildComponent(*line.name);
    return line;
}

std::unique_ptr<BoardCell> Board::makeCell(int row, int column)
{
    auto made = std::make_unique<BoardCell>(context);
    made->onPress = [this, cell = made.get()]
    {
        say({});
        context.session.standHere(cell->state().stance);
    };
    made->onFocus = [this, row, column](FocusChangeType cause) { focusCame({ row, column }, cause); };
    made->setChoosable(choosable);
    addChildComponent(*made);
    return made;
}

void Board::fillLine(std::size_t row)
{
    const bool isOfMonitor = row < state.rows.size();
    std::vector<Monitor> monitors;
    for (const auto& each : state.rows)
        monitors.push_back(each.monitor);
    const auto scale = commonScale(monitors, usualScale, mostWidth, mostHeight);
    lines[row].name->show(isOfMonitor ? &state.rows[row] : nullptr);
    for (std::size_t column = 0; column < lines[row].cells.size(); ++column)
    {
        BoardCellState empty;
        empty.orientation = usualOrientations()[std::min<std::size_t>(column, 2)];
        if (isOfMonitor)
            lines[row].cells[column]->show(state.rows[row].cells[column], monitors[row], scale, row);
        else
            lines[row].cells[column]->show(empty, {}, scale, row);
    }
}

void Board::layOut()
{
    for (int row = 0; row < static_cast<int>(lines.size()); ++row)
        layOutLine(row);
    more.say(hiddenWords());
    more.placeAt(cellsLeft + 6, footBaseline);
    more.setVisible(more.getButtonText().isNotEmpty() && refusal.isEmpty());
    if (typed.isTyping() && rowTyped() >= 0)
        typed.setBounds(BoardName::left, rowTop(rowTyped() - firstRow) + 5, BoardName::width, 25);
    repaint();
}

void Board::layOutLine(int row)
{
    auto& line = lines[static_cast<std::size_t>(row)];
    const int seen = row - firstRow;
    const bool rowIsSeen = seen >= 0 && seen < rowsSeen;
    line.name->setBounds(BoardName::left, rowTop(seen) + 2, BoardName::width, BoardName::height);
    line.name->setVisible(rowIsSeen);
    for (int column = 0; column < static_cast<int>(line.cells.size()); ++column)
    {
        auto& each = *line.cells[static_cast<std::size_t>(column)];
        const int across = column - firstColumn;
        each.placeAt(cellsLeft + columnWidth * across, rowTop(seen) + 1);
        each.setVisible(rowIsSeen && across >= 0 && across < columnsSeen);
    }
}

void Board::paint(juce::Graphics& g)
{
    const auto pen = ink(g);
    for (int across = 0; across < columnsSeen; ++across)
        if (const auto column = static_cast<std::size_t>(firstColumn + across); column < state.columns.size())
            pen.text(static_cast<float>(cellsLeft + columnWidth * across + 6), headBaseline,
                     fitted(state.columns[column], headMeasure, headSize, Weight::semibold), headSize,
                     palette().third, Weight::semibold);
    for (int seen = 0; seen < rowsSeen; ++seen)
        paintMark(pen, seen);
    if (refusal.isEmpty())
        return;
    const auto x = pen.attendMark(cellsLeft + 6, footBaseline, 9.0f);
    const auto measure = static_cast<float>(getWidth()) - x;
    pen.text(x, footBaseline, fitted(refusal, measure, headSize, Weight::semibold), headSize,
             palette().attend, Weight::semibold);
}

void Board::paintMark(const Ink& pen, int rowSeen) const
{
    const int row = firstRow + rowSeen;
    if (row >= static_cast<int>(lines.size()))
        return;
    const auto index = static_cast<std::size_t>(row);
    const auto y = static_cast<float>(rowTop(rowSeen) + BoardName::baseline + 2 - 5);
    pen.mark(markX + 0.4f, y, index, isNamed(row) ? palette().monitor(index) : palette().third);
}

}
