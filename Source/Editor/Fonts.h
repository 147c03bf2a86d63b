#pragma once

#include <juce_graphics/juce_graphics.h>

namespace plumbline
{

enum class Weight
{
    medium,  ///< running text from 15 px
    semibold ///< the rest
};

/** The window's font at a size in px (em height). 12.5 is the smallest used. Embedded: no file, no display. */
juce::Font font(float size, Weight weight);

/** The weight that a size usually has: semibold under 15 px, medium from there on. */
Weight usualWeight(float size);

/** Width of a line of text, px. */
float textWidth(const juce::String& text, float size, Weight weight);

}
