#pragma once

#include "Editor/Ink.h"
#include "Trial/Trial.h"

namespace plumbline
{

/** The front of a cabinet that stands upright, cm. The drivers are given by the height of their middle over
    the foot. */
struct CabinetFront
{
    double wide = 0.0, high = 0.0;
    double cone = 0.0; ///< radius of the largest driver
    double woofer = 0.0, tweeter = 0.0;

    bool operator==(const CabinetFront&) const = default;
};

/** What is known of a monitor's front, the rest in the proportions of a usual two-way cabinet of 20 x 31
    cm. The drivers always lie within the cabinet, whatever was typed. */
CabinetFront frontOf(const Monitor& monitor);

/** Px a cm at which every monitor fits, upright and lying: `usual` unless one is too large.
    @param width, height px that one cabinet may take */
float commonScale(const std::vector<Monitor>& monitors, float usual, float width, float height);

/** A monitor from the front, as it stands: a pair is mirrored, so that tweeters lie out or in on both
    sides. */
class MonitorFigure
{
public:
    struct Style
    {
        juce::Colour colour;
        float tint = 0.0f; ///< of the cabinets' faces, 0..1
        float lineWidth = 1.35f;
        bool dashed = false; ///< not asked
    };

    /** @param scale px a cm */
    MonitorFigure(const Monitor& monitor, float scale);

    /** Draws a pair with the left cabinet standing on `leftFoot` and the right one `gap` px beside it; a
        single monitor halfway between. */
    void draw(const Ink& ink, juce::Point<float> leftFoot, float gap, Lie lie, const Style& style) const;

    /** Where the feet stand: the middle of each cabinet, from the left. */
    std::vector<float> middles(float x, float gap) const;

    /** One cabinet, px. */
    juce::Rectangle<float> cabinet(juce::Point<float> foot, Lie lie) const;

    /** Middles of the largest driver and the tweeter, px. */
    struct Drivers
    {
        juce::Point<float> woofer, tweeter;
    };

    /** @param left the cabinet's side in the pair */
    Drivers drivers(juce::Point<float> foot, Lie lie, bool left) const;

private:
    void drawCabinet(const Ink& ink, juce::Point<float> foot, Lie lie, const Style& style) const;
    void drawDrivers(const Ink& ink, const Drivers& at, const Style& style) const;

    CabinetFront front;
    float scale;
    bool pair;
};

}
