#pragma once

#include "Editor/Part.h"

namespace plumbline
{

/** A pair from the front, to scale, drawn from what was typed; what was not is guessed, dashed and without
    figures. */
class PairDrawing final : public Part
{
public:
    explicit PairDrawing(WindowContext& context);

    /** Where it stands in the unscaled window. */
    static juce::Rectangle<int> placeInWindow() { return { 600, 278, 580, 264 }; }

    /** @param monitor nothing: says what will be here */
    void show(const Monitor* monitor, std::size_t row);

    void paint(juce::Graphics& g) override;

private:
    /** The front of a cabinet, cm; drivers from the foot upwards. */
    struct Front
    {
        double wide, high, cone, woofer, tweeter;
        bool guessed;
    };

    struct Spot
    {
        float x, floor, scale; ///< px of the middle and the foot; px a cm
    };

    Front front() const;
    void drawUpright(const Ink& pen, const Front& shape, Spot spot) const;
    void drawLying(const Ink& pen, const Front& shape, Spot spot, bool tweeterRight) const;
    void drawDrivers(const Ink& pen, const Front& shape, juce::Point<float> woofer,
                     juce::Point<float> tweeter, float scale) const;
    void drawFigures(const Ink& pen, const Front& shape, Spot left, float spacingX) const;
    void drawLyingPair(const Ink& pen, const Front& shape, float floor, Lie lie) const;

    std::optional<Monitor> monitor;
    std::size_t row = 0;
};

}
