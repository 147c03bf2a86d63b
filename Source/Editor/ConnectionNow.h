#pragma once

#include "Editor/Meter.h"

namespace plumbline
{

/** What is connected at this moment: the rate, the Return, and what arrives at it. */
class ConnectionNow final : public Part
{
public:
    explicit ConnectionNow(WindowContext& context);

    static constexpr int width = 572;

    void viewChanged() override;
    void liveChanged() override;
    void resized() override;
    void paint(juce::Graphics& g) override;

    juce::String words() const;

private:
    Meter microphone, loopback;
    juce::String drawn;
};

}
