#pragma once

#include "Editor/Fonts.h"
#include "Editor/Palette.h"

namespace plumbline
{

/** How an orientation is drawn: as a line's dashes, and as how the cabinets lie. */
enum class Lie
{
    upright, ///< unbroken
    sideOut, ///< 9-4
    sideIn,  ///< 2-4, round
    ownWords ///< 10-4-2-4: an orientation named by the user, drawn upright
};

/** The lie of an orientation by its name. */
Lie lieOf(const juce::String& orientation);

/** Draws the window's vocabulary on a Graphics: text with its baseline, hairlines, marks, the bob, buttons.
    Coordinates in px of the unscaled window. One is made for each paint(). */
class Ink
{
public:
    Ink(juce::Graphics& graphics, const Palette& colours) : g(graphics), palette(colours) {}

    juce::Graphics& graphics() const noexcept { return g; }

    const Palette& colours() const noexcept { return palette; }

    enum class Anchor
    {
        start,
        middle,
        end
    };

    // --- text; `y` is the baseline. @return x where the text ends
    float text(float x, float y, const juce::String& words, float size, juce::Colour colour, Weight weight,
               Anchor anchor = Anchor::start) const;
    /** With ground at 88 % behind it, for words on a plot. */
    float textOnPlot(float x, float y, const juce::String& words, float size, juce::Colour colour,
                     Weight weight, Anchor anchor = Anchor::start) const;
    /** Broken into lines of at most `measure`; a figure is never parted from its unit. @return the next
        baseline */
    float paragraph(float x, float y, const juce::String& words, float measure, float size, float lead,
                    juce::Colour colour, Weight weight) const;

    // --- lines and shapes
    void line(float x1, float y1, float x2, float y2, juce::Colour colour, float width = 1.0f) const;
    /** @param dashes px, as in SVG; empty: unbroken */
    void stroke(const juce::Path& path, juce::Colour colour, float width,
                std::initializer_list<float> dashes = {}, bool round = false) const;
    /** The line sample of an orientation: dashes run over an unbroken thread at 50 %. */
    void lieLine(const juce::Path& path, Lie lie, juce::Colour colour, float width) const;
    /** An outline that stays within the area. */
    void box(juce::Rectangle<float> area, juce::Colour colour, float radius = 3.0f, float width = 1.0f) const;
    void plate(juce::Rectangle<float> area, juce::Colour colour, float radius = 3.0f) const;
    /** The dotted rule under a word that is a choice. */
    void dottedRule(float x1, float x2, float baseline) const;
    /** A hairline: one pixel of the screen high, on whole pixels. */
    void rule(float y, float x1, float x2) const;

    // --- acts
    enum class Act
    {
        main,  ///< filled: the one next step
        plain, ///< outlined
        off,   ///< faint; why stands beneath
        stop   ///< filled vermilion: something sounds
    };
    /** A button's picture. @param note a second, smaller line in it */
    void button(juce::Rectangle<float> area, const juce::String& words, Act act, float size = 15.0f,
                const juce::String& note = {}) const;
    /** The width that a button of these words has, unless it is given another. */
    static float buttonWidth(const juce::String& words, float size = 15.0f);
    /** A word that leads somewhere, underlined. @return x where it ends */
    float link(float x, float y, const juce::String& words, float size = 14.0f) const;
    /** Around what has the keyboard: 2 px of ink, 2 px clear of `area`. */
    void focusRing(juce::Rectangle<float> area, float radius = 6.0f) const;

    // --- the signature
    /** The bob hanging from (x, y). @param size 5.6..9.5 */
    void bob(float x, float y, float size) const;
    /** The attend mark: a stroke out of plumb. @return x where the word begins */
    float attendMark(float x, float baseline, float height = 10.0f) const;
    /** The mark of the monitor in that row: disc, square, triangle, diamond, ring, bar. */
    void mark(float x, float y, std::size_t row, juce::Colour colour, float radius = 4.0f) const;

private:
    juce::Graphics& g;
    const Palette& palette;
};

/** Binds figures to their units with spaces that do not break, and hyphens before figures into true minus
    signs. */
juce::String bound(const juce::String& words);

/** Breaks words into lines of at most `measure` px. */
juce::StringArray brokenIntoLines(const juce::String& words, float measure, float size, Weight weight);

}
