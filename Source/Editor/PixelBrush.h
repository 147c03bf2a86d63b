#pragma once

#include <juce_graphics/juce_graphics.h>

namespace plumbline
{

/** The whole number at or under a value within the range of int; many times quicker than std::floor where the
    processor's own rounding may not be used. */
inline int wholeUnder(float value) noexcept
{
    const int whole = static_cast<int>(value);
    return whole - (static_cast<float>(whole) > value ? 1 : 0);
}

/** Lays a colour over single pixels of an opaque picture, as much of it as each is covered. */
class PixelBrush
{
public:
    PixelBrush(const juce::Image::BitmapData& picture, juce::Colour colour, float opacity)
        : first(picture.data), lineStride(picture.lineStride), pixelStride(picture.pixelStride),
          source(colour.withMultipliedAlpha(opacity).getPixelARGB()),
          rgb(picture.pixelFormat == juce::Image::RGB)
    {
        jassert(rgb || picture.pixelFormat == juce::Image::ARGB);
    }

    /** @param cover 0..1 */
    void at(int x, int y, float cover) const noexcept
    {
        const auto alpha = static_cast<juce::uint32>(cover * 256.0f + 0.5f);
        auto* pixel = first + y * lineStride + x * pixelStride;
        if (rgb)
            reinterpret_cast<juce::PixelRGB*>(pixel)->blend(source, alpha);
        else
            reinterpret_cast<juce::PixelARGB*>(pixel)->blend(source, alpha);
    }

private:
    juce::uint8* first;
    int lineStride, pixelStride;
    juce::PixelARGB source;
    bool rgb;
};

}
