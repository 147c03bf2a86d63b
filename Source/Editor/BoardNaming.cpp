// How pairs get their names on the board.

#include "Editor/Board.h"
#include "Editor/FirstSteps.h"

namespace plumbline
{

void Board::beginNaming(std::size_t row)
{
    if (!choosable || row > state.rows.size() || row >= lines.size())
        return;
    say({});
    cameFrom = current;
    const bool isNew = row == state.rows.size();
    typedFor = isNew ? std::string() : state.rows[row].monitor.name;
    reveal({ static_cast<int>(row), current.column });
    typed.begin(juce::String(*typedFor), isNew ? "Its name" : "");
    layOut();
}

/** The row whose name is typed; -1 if it went away meanwhile. */
int Board::rowTyped() const
{
    if (!typedFor)
        return -1;
    if (typedFor->empty())
        return state.canName ? static_cast<int>(state.rows.size()) : -1;
    for (std::size_t row = 0; row < state.rows.size(); ++row)
        if (state.rows[row].monitor.name == *typedFor)
            return static_cast<int>(row);
    return -1;
}

void Board::named(const juce::String& words)
{
    const auto wanted = words.trim();
    const auto row = rowTyped();
    const juce::String former(typedFor.value_or(std::string()));
    if (row >= 0 && wanted.isNotEmpty() && wanted != former)
    {
        say(monitorNameRefusal(wanted, former, *view().trial.trial));
        auto monitor = isNamed(row) ? state.rows[static_cast<std::size_t>(row)].monitor : Monitor{};
        monitor.name = wanted.toStdString();
        if (refusal.isEmpty())
            context.session.describeMonitor(former.toStdString(), monitor);
    }
    namingEnded();
}

/** The keyboard goes back to the row, unless the mouse has just sent it elsewhere or it left the board. */
void Board::namingEnded()
{
    const auto row = rowTyped();
    typedFor.reset();
    const auto* focused = getCurrentlyFocusedComponent();
    const bool leftAlone = juce::ModifierKeys::currentModifiers.isAnyMouseButtonDown() ||
                           (focused != nullptr && focused != this && !isParentOf(focused));
    if (row >= 0 && !leftAlone)
        focusAt({ row, cameFrom.column });
    layOut();
}

void Board::say(const juce::String& remark)
{
    refusal = remark;
    layOut();
}

}
