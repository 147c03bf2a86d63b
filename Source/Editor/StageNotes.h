#pragma once

#include "Editor/Part.h"

namespace plumbline
{

inline constexpr std::array stages{ Stage::connect, Stage::capture, Stage::compare, Stage::correct,
                                    Stage::check };

/** The stage's name. */
juce::String nameOf(Stage stage);

/** What the stage knows, as it stands under its name. */
juce::String noteOf(Stage stage, const SessionView& view, const LiveState& live);

/** The stage that the window opens with. */
Stage openingStage(const SessionView& view);

}
