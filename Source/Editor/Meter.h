#pragma once

#include "Editor/Part.h"

namespace plumbline
{

/** A level as a line with a scale, the peak a tick. No traffic lights: what must be known is a word.

    In its own px, unscaled: name and value on the baseline 10, the line from (4, 22) to (132, 22), figures
    under it. Its line lies over (1048..1176, y) of the window if it is placed with placedAtLine(y). */
class Meter final : public Part
{
public:
    static constexpr int width = 136, height = 46, lineFromLeft = 4, lineFromTop = 22;
    static constexpr float lowestDbfs = -60.0f;

    /** @param lineY of the meter's line in the window */
    static juce::Rectangle<int> placedAtLine(int lineY)
    {
        return { place::besidePlot - lineFromLeft, lineY - lineFromTop, width, height };
    }

    /** @param whatIsMetered "Microphone" */
    Meter(WindowContext& windowContext, const juce::String& whatIsMetered);

    /** [message] The largest level since the last call. Thirty times a second: the line falls 20 dB a second,
        the tick too after it was held for 1.5 s, and "clipped" stays for 3 s.
        @param peakDbfs 0 is full scale; -200 for nothing at all */
    void feed(float peakDbfs);
    /** [message] As if nothing had ever come. */
    void reset();

    /** "−33 dBFS", "nothing", "clipped". */
    const juce::String& value() const noexcept { return seen.words; }

    /** Level of the line, dBFS, as last drawn. */
    float level() const noexcept { return now; }

    float peak() const noexcept { return held; }

    void paint(juce::Graphics& g) override;
    std::unique_ptr<juce::AccessibilityHandler> createAccessibilityHandler() override;

private:
    /** What is to be seen, as far as it can be told apart. */
    struct Seen
    {
        int line = 0, tick = 0; ///< quarters of a px
        bool clipped = false;
        juce::String words;

        bool operator==(const Seen&) const = default;
    };

    Seen look() const;
    void refresh();

    juce::String name;
    float now = -200.0f, held = -200.0f;
    bool silent = true;
    int heldFeeds = 0, clippedFeeds = 0;
    Seen seen;
};

}
