#include "Editor/EditorWindow.h"

#include "Editor/StageNotes.h"

namespace plumbline
{

namespace
{

constexpr int smallestWidth = 900, smallestHeight = 570; ///< the sheet at 75 %
constexpr int largestScale = 250;

juce::Point<int> sizeAt(int percent)
{
    return { place::width * percent / 100, place::height * percent / 100 };
}

}

EditorWindow::EditorWindow(juce::AudioProcessor& audioProcessor, EditorInterface& session)
    : AudioProcessorEditor(audioProcessor), context{
          session, session.session(), session.live(), &darkPalette(), Stage::connect, {}, {}, {}
      }
{
    seen = session.version();
    context.palette = context.view->appearance.dark ? &darkPalette() : &lightPalette();
    context.stage = openingStage(*context.view);
    setTitle("Plumbline");
    setOpaque(true);
    setWantsKeyboardFocus(true);
    setFocusContainerType(FocusContainerType::keyboardFocusContainer);
    content = std::make_unique<Sheet>(context);
    addAndMakeVisible(*content);
    wholeKeys = std::make_unique<Keys>(context, *this, [this] { content->closeOrStepBack(); });
    const auto largest = sizeAt(largestScale);
    setResizable(true, false);
    setResizeLimits(smallestWidth, smallestHeight, largest.x, largest.y);
    getConstrainer()->setFixedAspectRatio(static_cast<double>(place::width) / place::height);
    const auto size = sizeAt(context.view->appearance.scalePercent);
    setSize(size.x, size.y);
    startTimerHz(looksPerSecond);
}

EditorWindow::~EditorWindow()
{
    stopTimer();
    context.session.windowClosed();
}

void EditorWindow::look()
{
    context.live = context.session.live();
    if (context.session.version() != seen)
        takeView();
    wholeKeys->follow(getCurrentlyFocusedComponent());
    content->liveChanged();
}

void EditorWindow::takeView()
{
    // The version first: what changes in between is seen at the next look.
    seen = context.session.version();
    const auto before = context.view->appearance;
    context.view = context.session.session();
    const auto& appearance = context.view->appearance;
    context.palette = appearance.dark ? &darkPalette() : &lightPalette();
    content->viewChanged();
    if (appearance.dark != before.dark)
        repaint();
    if (appearance.scalePercent != before.scalePercent)
    {
        const auto size = sizeAt(appearance.scalePercent);
        setSize(size.x, size.y);
    }
}

void EditorWindow::paint(juce::Graphics& g)
{
    g.fillAll(context.palette->ground);
}

void EditorWindow::resized()
{
    const auto across = static_cast<float>(getWidth()) / place::width;
    const auto down = static_cast<float>(getHeight()) / place::height;
    const auto scale = std::min(across, down);
    content->setTransform(juce::AffineTransform::scale(scale).translated(
        place::width * (across - scale) / 2.0f, place::height * (down - scale) / 2.0f));
}

}
