#pragma once

#include "Editor/Pressable.h"

namespace plumbline
{

/** The trial's name in the header, a choice: it opens what can be done with trials. A message about the trial
    that must be attended to puts the attend mark before it. */
class TrialName final : public Pressable
{
public:
    explicit TrialName(WindowContext& windowContext);

    void viewChanged() override;

    /** Shortened to its place; the whole name is the tooltip. */
    const juce::String& shownName() const noexcept { return name; }

    static constexpr int inset = 6; ///< from the left edge to where the name begins, px

private:
    void draw(const Ink& ink) override;

    juce::String name;
    bool attend = false;
};

}
