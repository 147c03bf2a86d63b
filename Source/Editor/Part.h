#pragma once

#include "Editor/Ink.h"
#include "Plugin/EditorInterface.h"

#include <functional>
#include <juce_gui_basics/juce_gui_basics.h>

namespace plumbline
{

/** The five stages, in the order of the work. */
enum class Stage
{
    connect,
    capture,
    compare,
    correct,
    check
};

/** What every part of the window is given. Owned by the window, which outlives its parts. */
struct WindowContext
{
    EditorInterface& session;
    std::shared_ptr<const SessionView> view; ///< the newest snapshot; never null
    LiveState live;                          ///< as it was a frame ago
    const Palette* palette = &darkPalette();
    Stage stage = Stage::connect;
    std::function<void(Stage)> goTo;       ///< shows another stage
    std::function<void(bool)> showCare;    ///< opens or closes the page of cautions
    std::function<void()> showTrialMenu;   ///< under the trial's name
};

/** A part of the window: one component a file. */
class Part : public juce::Component
{
public:
    explicit Part(WindowContext& windowContext) : context(windowContext) {}

    /** [message] A new snapshot is in context.view. */
    virtual void viewChanged() { repaint(); }

    /** [message] Thirty times a second: new context.live. */
    virtual void liveChanged() {}

protected:
    Ink ink(juce::Graphics& g) const { return { g, *context.palette }; }

    const Palette& palette() const { return *context.palette; }

    const SessionView& view() const { return *context.view; }

    WindowContext& context;
};

/** Where things stand in the unscaled window of 1200 x 760 px. */
namespace place
{
inline constexpr int width = 1200, height = 760;
inline constexpr int headerHeight = 60;
inline constexpr int wordsBottom = 266;   ///< board and words above, figure below
inline constexpr int stripTop = 696;
inline constexpr int margin = 24;
inline constexpr int wordsLeft = 628, wordsRight = 1176;
inline constexpr int plotLeft = 64, plotRight = 1016;
inline constexpr int plotTop = 334, plotBottom = 654;
inline constexpr int captionBaseline = 317, questionBaseline = 288;
inline constexpr int besidePlot = 1048; ///< names and meters
}

}
