#pragma once

#include "Editor/BoardModel.h"
#include "Editor/Pressable.h"

namespace plumbline
{

/** A stance on the board: its cabinets on a shelf that is the line sample of its curve, its takes, and a
    word. Pressed, it says that this stands here. */
class BoardCell final : public Pressable
{
public:
    explicit BoardCell(WindowContext& context);

    static constexpr int width = 154, height = 48;
    static constexpr int ringRoom = 4; ///< around it, for the ring that shows the focus, px

    /** Told with how the keyboard came. */
    std::function<void(FocusChangeType)> onFocus;

    /** @param figure the monitor at the board's scale
        @param row whose colour it has */
    void show(const BoardCellState& state, const Monitor& monitor, float scale, std::size_t row);
    /** Another stance may be chosen; otherwise a press does nothing. */
    void setChoosable(bool choosable);

    const BoardCellState& state() const noexcept { return shown; }

    void placeAt(int x, int y) { setBounds(x - ringRoom, y - ringRoom, width + 8, height + 8); }

    void focusGained(FocusChangeType cause) override;

private:
    void draw(const Ink& ink) override;
    void press() override;
    void drawState(const Ink& ink) const;
    void drawFigure(const Ink& ink) const;
    void drawShelf(const Ink& ink) const;
    void drawStands(const Ink& ink) const;
    void drawWords(const Ink& ink) const;
    juce::Colour colour() const;

    BoardCellState shown;
    Monitor monitor;
    float scale = 1.0f;
    std::size_t row = 0;
    bool choosable = true;
};

}
