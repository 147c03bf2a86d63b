#include "Editor/ResponseChart.h"

#include "Editor/ChartWords.h"

namespace plumbline
{

namespace
{

/** The value at the plumb line, for ears. */
class PlumbReading final : public juce::AccessibilityTextValueInterface
{
public:
    explicit PlumbReading(const ResponseChart& responseChart) : chart(responseChart) {}

    bool isReadOnly() const override { return true; }

    juce::String getCurrentValueAsString() const override
    {
        const auto* plumb = chart.plumbLine();
        return plumb == nullptr
                   ? juce::String()
                   : chartWords::reading(*chart.chart().content().curves.newest, plumb->frequency());
    }

    void setValueAsString(const juce::String&) override {}

private:
    const ResponseChart& chart;
};

}

ResponseChart::ResponseChart(WindowContext& windowContext) : Part(windowContext)
{
    setOpaque(true);
    setWantsKeyboardFocus(true);
    setTitle(chartWords::title());
    setDescription(summary());
}

void ResponseChart::show(const StanceCurves& curves, std::size_t monitorRow, Lie lie)
{
    if (curves.newest == nullptr)
        show();
    else
        showContent({ curves, monitorRow, lie });
}

void ResponseChart::show()
{
    showContent({});
}

void ResponseChart::showContent(const ChartContent& content)
{
    if (!picture.show(content))
        return;
    setDescription(summary());
    if (plumb)
        hang(plumb->frequency());
    repaint();
}

void ResponseChart::keepNamesBetween(float namesTop, float namesBottom)
{
    if (picture.keepNamesBetween(namesTop, namesBottom))
        repaint();
}

juce::String ResponseChart::summary() const
{
    return chartWords::summary(picture.content().curves);
}

void ResponseChart::paint(juce::Graphics& g)
{
    picture.paint(g, palette());
    const auto drawn = ink(g);
    if (plumb)
        plumb->paint(drawn, palette().monitor(picture.content().monitorRow));
    if (focusIsSeen)
    {
        const auto& plot = picture.scale().area();
        drawn.focusRing(juce::Rectangle<double>(plot.left, plot.top, plot.width, plot.height).toFloat());
    }
}

void ResponseChart::hang(std::optional<double> hz)
{
    repaintPlumbLine();
    plumb.reset();
    if (hz && picture.content().curves.newest != nullptr)
        plumb.emplace(picture, *hz);
    repaintPlumbLine();
}

void ResponseChart::repaintPlumbLine()
{
    if (plumb)
        for (const auto& area : plumb->areas())
            repaint(area);
}

void ResponseChart::mouseMove(const juce::MouseEvent& event)
{
    const auto& plot = picture.scale().area();
    const auto x = static_cast<double>(event.position.x), y = static_cast<double>(event.position.y);
    const bool inside = x >= plot.left && x <= plot.right() && y >= plot.top && y <= plot.bottom();
    if (!inside)
        return mouseExit(event);
    hungByKey = false;
    hang(picture.scale().frequency(x));
}

void ResponseChart::mouseExit(const juce::MouseEvent&)
{
    if (plumb && !hungByKey)
        hang(std::nullopt);
}

bool ResponseChart::keyPressed(const juce::KeyPress& key)
{
    const bool right = key.isKeyCode(juce::KeyPress::rightKey);
    const auto keys = key.getModifiers().getRawFlags() & juce::ModifierKeys::allKeyboardModifiers;
    const bool plain = keys == 0, shift = keys == juce::ModifierKeys::shiftModifier;
    if ((!right && !key.isKeyCode(juce::KeyPress::leftKey)) || (!plain && !shift) ||
        picture.content().curves.newest == nullptr)
        return false;
    hungByKey = true;
    hang(plumb ? steppedFrequency(plumb->frequency(), shift ? 3 : 12, right) : 1000.0);
    if (auto* handler = getAccessibilityHandler())
        handler->notifyAccessibilityEvent(juce::AccessibilityEvent::valueChanged);
    return true;
}

void ResponseChart::focusGained(FocusChangeType cause)
{
    focusIsSeen = cause != focusChangedByMouseClick;
    repaint();
}

void ResponseChart::focusLost(FocusChangeType)
{
    focusIsSeen = false;
    if (hungByKey)
        hang(std::nullopt);
    hungByKey = false;
    repaint();
}

std::unique_ptr<juce::AccessibilityHandler> ResponseChart::createAccessibilityHandler()
{
    return std::make_unique<juce::AccessibilityHandler>(
        *this, juce::AccessibilityRole::image, juce::AccessibilityActions(),
        juce::AccessibilityHandler::Interfaces(std::make_unique<PlumbReading>(*this)));
}

}
