#include "Editor/Fonts.h"

#include <EmbeddedFonts.h>
#include <juce_events/juce_events.h>

namespace plumbline
{

namespace
{

constexpr float figureAdvance = 0.517f; ///< of every figure in both weights, em: the fonts' own tables say so

/** A typeface, and how JUCE's height of a font goes with its em. JUCE counts from ascender to descender;
    its withPointHeight() is the em on some systems and the ascender on others, so it is measured here. */
struct Face
{
    Face(const void* data, int size)
        : typeface(juce::Typeface::createSystemTypefaceFor(data, static_cast<std::size_t>(size)))
    {
        constexpr auto height = 100.0f;
        heightOverEm =
            figureAdvance * height / juce::Font(typeface).withHeight(height).getStringWidthFloat("0");
    }

    juce::Typeface::Ptr typeface;
    float heightOverEm = 1.0f;
};

/** The two typefaces, read once from the program itself, given back when JUCE shuts down. */
struct Typefaces final : juce::DeletedAtShutdown
{
    Typefaces() = default;

    ~Typefaces() override { clearSingletonInstance(); }

    const Face medium{ embedded::YsabeauOfficeMedium_ttf, embedded::YsabeauOfficeMedium_ttfSize };
    const Face semibold{ embedded::YsabeauOfficeSemiBold_ttf, embedded::YsabeauOfficeSemiBold_ttfSize };

    JUCE_DECLARE_SINGLETON(Typefaces, false)
};

JUCE_IMPLEMENT_SINGLETON(Typefaces)

}

juce::Font font(float size, Weight weight)
{
    const auto& faces = *Typefaces::getInstance();
    const auto& face = weight == Weight::medium ? faces.medium : faces.semibold;
    return juce::Font(face.typeface).withHeight(size * face.heightOverEm);
}

Weight usualWeight(float size)
{
    return size < 15.0f ? Weight::semibold : Weight::medium;
}

float textWidth(const juce::String& text, float size, Weight weight)
{
    return font(size, weight).getStringWidthFloat(text);
}

}
