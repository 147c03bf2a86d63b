#pragma once

#include "Editor/BoardCell.h"
#include "Editor/BoardName.h"
#include "Editor/LinkButton.h"
#include "Editor/TextEntry.h"

namespace plumbline
{

/** The way in: a row a monitor, a column an orientation, a cell a stance. Says what stands here, and names
    pairs. Arrows move within it, Tab leaves it. Three rows and columns are seen; more of them scroll. */
class Board final : public Part
{
public:
    explicit Board(WindowContext& context);

    static constexpr int rowsSeen = 3, columnsSeen = 3;

    void viewChanged() override;
    void liveChanged() override;
    bool keyPressed(const juce::KeyPress& key) override;
    void mouseWheelMove(const juce::MouseEvent& event, const juce::MouseWheelDetails& wheel) override;
    void paint(juce::Graphics& g) override;
    std::unique_ptr<juce::AccessibilityHandler> createAccessibilityHandler() override;

    /** Lets the name of that row be typed; past the last one a new pair's. */
    void beginNaming(std::size_t row);

    BoardCell& cell(std::size_t row, std::size_t column) { return *lines.at(row).cells.at(column); }

    BoardName& name(std::size_t row) { return *lines.at(row).name; }

    /** Rows, with the one for one more pair. */
    std::size_t rows() const noexcept { return lines.size(); }

    TextEntry& entry() noexcept { return typed; }

    LinkButton& moreLink() noexcept { return more; }

    /** What is said under it about a name that cannot be; may be empty. */
    const juce::String& remark() const noexcept { return refusal; }

private:
    /** A row's components. */
    struct Line
    {
        std::unique_ptr<BoardName> name;
        std::vector<std::unique_ptr<BoardCell>> cells;
    };

    struct Spot
    {
        int row = 0, column = 0;

        bool operator==(const Spot&) const = default;
    };

    // --- Board.cpp: what stands on it
    void fitLines();
    Line makeLine(int row);
    std::unique_ptr<BoardCell> makeCell(int row, int column);
    void fillLine(std::size_t row);
    void layOut();
    void layOutLine(int row);
    void paintMark(const Ink& ink, int row) const;
    bool choosableNow() const;
    Spot spotHere() const;

    // --- BoardMoves.cpp: keyboard and scrolling
    bool isNamed(int row) const { return row < static_cast<int>(state.rows.size()); }

    juce::Component* at(Spot spot) const;
    void focusCame(Spot spot, FocusChangeType cause);
    void focusAt(Spot spot);
    bool move(int rows, int columns);
    bool leave(bool forwards);
    void reveal(Spot spot);
    void scrollBy(int rows, int columns);
    juce::String hiddenWords() const;

    // --- BoardNaming.cpp
    void named(const juce::String& words);
    void namingEnded();
    void say(const juce::String& remark);
    int rowTyped() const;

    BoardState state;
    std::vector<Line> lines;
    LinkButton more;
    TextEntry typed;
    std::optional<std::string> typedFor; ///< the name until now of the pair that is typed; empty: a new one
    juce::String refusal;
    Spot current;  ///< where the keyboard is, or comes to
    Spot cameFrom; ///< where it was when a name began to be typed
    int firstRow = 0, firstColumn = 0;
    float wheelled = 0.0f, wheelledAcross = 0.0f; ///< turned, and not yet a row or column
    bool choosable = true, filled = false;
};

}
