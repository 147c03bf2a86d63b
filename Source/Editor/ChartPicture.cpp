#include "Editor/ChartPicture.h"

#include "Editor/ChartDrawing.h"
#include "Editor/ChartWords.h"

#include <cmath>

namespace plumbline
{

namespace
{

/** Highest level that is known, of the newest take and the one before. */
double highestKnown(const StanceCurves& curves)
{
    double highest = -1e9;
    for (const auto& take : { curves.newest, curves.before })
        if (take != nullptr)
            for (const auto& view : viewsOf(*take))
                for (std::size_t i = 0; i < view.levelDb.size(); ++i)
                    if ((*view.known)[i] && std::isfinite(view.levelDb[i]))
                        highest = std::max(highest, view.levelDb[i]);
    return highest > -1e8 ? highest : 0.0;
}

}

ChartPicture::ChartPicture()
    : chartScale(plot, topOverLevel(0.0)), namesTop(static_cast<float>(plot.top) + 6.0f),
      namesBottom(static_cast<float>(plot.bottom()) - 2.0f)
{
}

bool ChartPicture::show(ChartContent newContent)
{
    if (newContent == shown)
        return false;
    shown = std::move(newContent);
    chartScale = ChartScale(plot, topOverLevel(highestKnown(shown.curves)));
    madeIn = nullptr;
    return true;
}

bool ChartPicture::keepNamesBetween(float top, float bottom)
{
    if (top == namesTop && bottom == namesBottom)
        return false;
    namesTop = top;
    namesBottom = bottom;
    madeIn = nullptr;
    return true;
}

void ChartPicture::paint(juce::Graphics& g, const Palette& palette)
{
    const auto pxScale = std::max(0.25f, g.getInternalContext().getPhysicalPixelScaleFactor());
    if (madeIn != &palette || std::abs(pxScale - madeAt) > 1e-3f)
        make(palette, pxScale);
    const juce::Graphics::ScopedSaveState saved(g);
    g.setImageResamplingQuality(juce::Graphics::lowResamplingQuality); // px to px, nothing in between
    g.setOpacity(1.0f);
    g.drawImageTransformed(picture, juce::AffineTransform::scale(1.0f / madeAt));
}

void ChartPicture::make(const Palette& palette, float pxScale)
{
    const auto wide = static_cast<int>(std::ceil(static_cast<float>(width) * pxScale - 1e-3f));
    const auto high = static_cast<int>(std::ceil(static_cast<float>(height) * pxScale - 1e-3f));
    if (picture.getWidth() != wide || picture.getHeight() != high)
        picture = juce::Image(juce::Image::RGB, wide, high, false);
    drawChart(picture, { shown, chartScale, palette, pxScale, namesTop, namesBottom });
    madeIn = &palette;
    madeAt = pxScale;
    ++made;
}

}
