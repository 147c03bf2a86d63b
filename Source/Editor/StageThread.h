#pragma once

#include "Editor/Part.h"

namespace plumbline
{

/** The plumb line in the header: its bob hangs at the chosen stage and slides to the next one in 120 ms. */
class StageThread final : public Part, private juce::Timer
{
public:
    explicit StageThread(WindowContext& windowContext);

    /** Hangs at x px of the parent. @param slide otherwise it is there at once */
    void hangAt(float x, bool slide);

    /** Where it is at a time of the millisecond counter. */
    void moveOn(double nowMs);

    bool sliding() const { return isTimerRunning(); }

    /** Its own place now, px of the parent. */
    float x() const noexcept { return here; }

    void paint(juce::Graphics& g) override;

    static constexpr double slideMs = 120.0;
    static constexpr int height = 72; ///< the bob hangs below the header's edge

private:
    void timerCallback() override { moveOn(juce::Time::getMillisecondCounterHiRes()); }

    void putAt(float x);

    float here = 0.0f, from = 0.0f, target = 0.0f;
    double began = 0.0;
};

}
