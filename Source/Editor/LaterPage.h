#pragma once

#include "Editor/Part.h"

namespace plumbline
{

/** A stage that is not built yet: says in one line what it will do. */
class LaterPage final : public Part
{
public:
    LaterPage(WindowContext& windowContext, Stage stageToCome);

    void paint(juce::Graphics& g) override;

private:
    const Stage stage;
};

}
