#pragma once

#include "Editor/Part.h"

namespace plumbline
{

/** The practice room from above, to scale, and what it is for. */
class PracticePlan final : public Part
{
public:
    explicit PracticePlan(WindowContext& context);

    static constexpr int width = 572;

    void paint(juce::Graphics& g) override;
};

}
