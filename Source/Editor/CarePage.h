#pragma once

#include "Editor/ActButton.h"

namespace plumbline
{

/** What to mind before anything sounds, and before anything heavy is lifted: read once for each computer, and
    reachable ever after. Reading is recorded by its act alone; closing it records nothing. */
class CarePage final : public Part
{
public:
    explicit CarePage(WindowContext& context);

    void viewChanged() override;
    void resized() override;
    void paint(juce::Graphics& g) override;
    bool keyPressed(const juce::KeyPress& key) override;

    ActButton& act() noexcept { return done; }

private:
    ActButton done;
};

}
