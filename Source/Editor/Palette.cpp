#include "Editor/Palette.h"

namespace plumbline
{

namespace
{

juce::Colour rgb(juce::uint32 value)
{
    return juce::Colour(0xff000000u | value);
}

Palette makeDark()
{
    return { rgb(0x12211c),
             rgb(0x1b2f28),
             rgb(0x33473f),
             rgb(0x22352e),
             rgb(0xf1eadb),
             rgb(0xb4bfb2),
             rgb(0x8fa096),
             rgb(0xff8a66),
             { rgb(0x62b6e8), rgb(0xf3de73), rgb(0xdb5a8e), rgb(0x5c6fe8), rgb(0x8ff5e0), rgb(0x9c6c3c) } };
}

Palette makeLight()
{
    return { rgb(0xf6f1e5),
             rgb(0xeae3d2),
             rgb(0xc4beac),
             rgb(0xe4ddcc),
             rgb(0x17241f),
             rgb(0x4a5750),
             rgb(0x566259),
             rgb(0xb3320f),
             { rgb(0x1c73c2), rgb(0xa67a00), rgb(0x94124f), rgb(0x2a35b0), rgb(0x01696c), rgb(0x54240c) } };
}

}

const Palette& darkPalette()
{
    static const Palette palette = makeDark();
    return palette;
}

const Palette& lightPalette()
{
    static const Palette palette = makeLight();
    return palette;
}

}
