#pragma once

#include "Editor/Part.h"

namespace plumbline
{

/** The take as one thick line of time: its parts named over it, what has passed filled, the part that plays
    named in ink, its whole length beside it.

    In its own px, unscaled: names on the baseline 9, the line from (64, 15) to (1016, 25), the length from x
    1048 on. */
class TimeLine final : public Part
{
public:
    static constexpr int left = 0, top = 272, width = place::width, height = 28;

    static juce::Rectangle<int> placeInWindow() { return { left, top, width, height }; }

    /** A part of the take. */
    struct Stretch
    {
        const char* name;
        double fromSeconds = 0.0, toSeconds = 0.0;
    };

    static std::vector<Stretch> stretchesOf(const TakeTimes& times);

    explicit TimeLine(WindowContext& windowContext);

    void viewChanged() override;
    /** Thirty times a second; draws at every second of them. */
    void liveChanged() override;
    void paint(juce::Graphics& g) override;

private:
    float xOf(double seconds) const;
    double elapsed() const;
    int playing() const;
    void refresh();

    std::vector<Stretch> stretches;
    double totalSeconds = 1.0;
    float filledTo = 0.0f; ///< x that is drawn as passed
    int named = -1;        ///< the stretch that is named in ink; none
    bool skip = false;
    LiveState::Phase phase = LiveState::Phase::idle;
};

}
