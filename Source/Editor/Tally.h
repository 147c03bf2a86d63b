#pragma once

#include "Editor/Ink.h"

#include <vector>

namespace plumbline
{

/** One take in the tally. */
enum class TakeStroke
{
    kept,     ///< full
    doubtful, ///< struck out, until it was taken again
    wanted    ///< outlined
};

/** The takes of one set-up, each group on its own foot. */
struct TallyGroup
{
    std::vector<TakeStroke> strokes;

    int count(TakeStroke kind) const;

    /** At least one take was made. */
    bool begun() const { return count(TakeStroke::wanted) < static_cast<int>(strokes.size()); }

    bool operator==(const TallyGroup&) const = default;
};

/** Strokes as in a field book, grouped by set-up. */
class Tally
{
public:
    /** @param colour of the strokes of takes that were made */
    Tally(std::vector<TallyGroup> groups, juce::Colour colour);

    /** Draws from (x, y), the foot of the first stroke, within `measure` px: strokes move closer where they
        are many; too many of them stand there as words. */
    void draw(const Ink& ink, float x, float y, float measure, float height = 10.5f) const;

private:
    float wanted(float stride, float gap) const;
    void drawGroup(const Ink& ink, const TallyGroup& group, float x, float y, float stride,
                   float height) const;
    void drawStroke(const Ink& ink, TakeStroke stroke, float x, float y, float height) const;

    std::vector<TallyGroup> groups;
    juce::Colour made;
};

}
