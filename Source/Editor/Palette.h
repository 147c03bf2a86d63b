#pragma once

#include <array>
#include <juce_graphics/juce_graphics.h>

namespace plumbline
{

/** Every colour of the window. Colour is only ever a monitor; `attend` only ever says: attend to this; the
    rest is ink on ground. */
struct Palette
{
    juce::Colour ground;
    juce::Colour plate;  ///< selected, menu
    juce::Colour rule, grid;
    juce::Colour ink;    ///< answers, choices
    juce::Colour second; ///< sentences, axes
    juce::Colour third;  ///< units, hints
    juce::Colour attend;
    std::array<juce::Colour, 6> monitors;

    /** The colour of the monitor in that row of the board; from the seventh on they begin again. */
    juce::Colour monitor(std::size_t row) const { return monitors[row % monitors.size()]; }
};

const Palette& darkPalette();
const Palette& lightPalette();

}
