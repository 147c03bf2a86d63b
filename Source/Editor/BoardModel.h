#pragma once

#include "Editor/Tally.h"
#include "Plugin/EditorInterface.h"

namespace plumbline
{

/** How often a stance is to be stood up and taken. */
struct WantedTakes
{
    int setUps = 1;    ///< 0: it is not asked for
    int takesEach = 2; ///< in every set-up

    bool operator==(const WantedTakes&) const = default;
};

/** What is wanted of a stance unless the user decides otherwise: two takes a set-up; each monitor's first
    stance stood up twice, for what putting it back changes; an orientation of the user's own only where it
    was stood. */
WantedTakes wantedTakes(const Trial& trial, const Stance& stance);

/** One stance on the board. */
struct BoardCellState
{
    std::string stance; ///< "PAIR, ORIENTATION"; empty: the pair has no name yet
    juce::String orientation;
    bool asked = false;
    std::vector<TallyGroup> groups; ///< one a set-up, in their order
    int stoodUp = 0;                ///< set-ups until now
    juce::String word;              ///< empty: nothing is missing, and nothing can be said yet
    bool attend = false;            ///< the word wants attention
    juce::String foot;              ///< what it is now
    bool hereNow = false, selected = false, onChart = false;

    int count(TakeStroke kind) const;
    /** Any take was made. */
    bool begun() const;
    /** All takes of its first set-up were made. */
    bool enough() const;
    /** As it is read out. */
    juce::String title() const;

    bool operator==(const BoardCellState&) const = default;
};

/** One monitor on the board. */
struct BoardRowState
{
    Monitor monitor;
    juce::String known; ///< of its build, in few words; may be empty
    std::vector<BoardCellState> cells;

    bool operator==(const BoardRowState&) const = default;
};

/** The board as it is to be drawn. */
struct BoardState
{
    std::vector<juce::String> columns; ///< heads, "Side, tweeters out"
    std::vector<BoardRowState> rows;
    bool canName = true; ///< there is a row for one more pair

    bool operator==(const BoardState&) const = default;
};

/** Rows that have a mark and a colour of their own. */
inline constexpr std::size_t mostRows = 6;

BoardState boardFrom(const SessionView& view);

/** What is known of a monitor's build, "two-way, 2.2 kHz"; empty if nothing is. */
juce::String knownOf(const Monitor& monitor);

}
