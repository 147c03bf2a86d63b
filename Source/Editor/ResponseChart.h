#pragma once

#include "Editor/Part.h"
#include "Editor/PlumbLine.h"

namespace plumbline
{

/** The chart of levels: the newest take of one stance, left and right, the take before it as a faint band,
    and the plumb line.

    Its own px, unscaled, are those of `place`, less placeInWindow's corner: the plot is (64, 6) to
    (1016, 326), figures of the axes stand left of and under it, names at the lines' ends from x 1048 on. It
    covers its whole place; whoever stands in the names' column lies over it and tells where with
    keepNamesBetween(). */
class ResponseChart final : public Part
{
public:
    /** Where it stands in the unscaled window. Whole multiples of 8, so that its corner falls on a whole px
        at each scale of 25 %. */
    static constexpr int left = 0, top = 328, width = ChartPicture::width, height = ChartPicture::height;

    static juce::Rectangle<int> placeInWindow() { return { left, top, width, height }; }

    explicit ResponseChart(WindowContext& windowContext);

    /** [message] Shows a stance. @param monitorRow its monitor's row on the board */
    void show(const StanceCurves& curves, std::size_t monitorRow, Lie lie);
    /** [message] Shows nothing, and says what will be here and how. */
    void show();
    /** [message] Room for the names at the lines' ends, px of the chart's own place. */
    void keepNamesBetween(float namesTop, float namesBottom);

    /** [message] What it shows, in a sentence or some; from the same data. */
    juce::String summary() const;

    /** [message] The plumb line, or null while there is none. */
    const PlumbLine* plumbLine() const { return plumb ? &*plumb : nullptr; }

    const ChartPicture& chart() const { return picture; }

    void paint(juce::Graphics& g) override;
    void mouseMove(const juce::MouseEvent& event) override;

    void mouseDrag(const juce::MouseEvent& event) override { mouseMove(event); }

    void mouseExit(const juce::MouseEvent& event) override;
    bool keyPressed(const juce::KeyPress& key) override;
    void focusGained(FocusChangeType cause) override;
    void focusLost(FocusChangeType cause) override;
    std::unique_ptr<juce::AccessibilityHandler> createAccessibilityHandler() override;

private:
    void showContent(const ChartContent& content);
    void hang(std::optional<double> hz);
    void repaintPlumbLine();

    ChartPicture picture;
    std::optional<PlumbLine> plumb;
    bool hungByKey = false;   ///< stays when the mouse leaves
    bool focusIsSeen = false; ///< came by key
};

}
