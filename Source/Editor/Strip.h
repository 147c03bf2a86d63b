#pragma once

#include "Editor/Part.h"

namespace plumbline
{

/** What is to be heard now, in one sentence. */
juce::String heard(const SessionView& view, const LiveState& live);

/** The strip at the window's foot: one sentence on what is heard. */
class Strip final : public Part
{
public:
    explicit Strip(WindowContext& windowContext);

    void viewChanged() override;
    void liveChanged() override;
    void paint(juce::Graphics& g) override;

    const juce::String& sentence() const noexcept { return words; }

private:
    void read();

    juce::String words;
};

}
