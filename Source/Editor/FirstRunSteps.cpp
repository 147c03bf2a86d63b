#include "Editor/FirstRunSteps.h"

namespace plumbline
{

namespace
{
constexpr int wordX = 12, textX = 120, threadX = 100, textWide = 408, firstBaseline = 70, pitch = 96,
              tightPitch = 88;
constexpr int fullHeight = 470; ///< there is room as drawn; less: the steps stand closer

const char* whereWords = "Simulated monitors, room and microphone: nothing sounds, nothing can break. With a "
                         "microphone it is the same work, at your own seat.";
const char* namesWords = "A name is enough. Whether it is a pair, and its sizes, can follow.";
const char* careHead = "One page before anything sounds";
const char* careWords =
    "Hearing, small drivers, heavy monitors on their side. The practice room is silent; the page "
    "can wait until a microphone is used.";
constexpr std::array stepNames{ "Where", "Pairs", "Care", "First take" };
}

FirstRunSteps::FirstRunSteps(WindowContext& windowContext)
    : Part(windowContext), where(windowContext, "Where the takes are made", "practice room", "microphone"),
      editor(windowContext), care(windowContext, "Read it", 13.0f)
{
    care.onClick = [this] { context.showCare(true); };
    addAndMakeVisible(where);
    addAndMakeVisible(editor);
    addAndMakeVisible(care);
    setInterceptsMouseClicks(false, true);
    setFocusContainerType(FocusContainerType::focusContainer);
}

void FirstRunSteps::show(const FirstSteps& toShow)
{
    steps = toShow;
    where.setHolding(view().practiceRoom ? 0 : steps.whereTold ? 1 : -1);
    care.say(steps.careRead ? "Read it again" : "Read it");
    setTitle(
        juce::String("Four steps to the first curve. Next: ") +
        (steps.next() < FirstSteps::all ? stepNames[static_cast<std::size_t>(steps.next())] : "all is told"));
    resized();
    repaint();
}

void FirstRunSteps::viewChanged()
{
    editor.viewChanged();
    resized();
    repaint();
}

int FirstRunSteps::baselineOf(FirstSteps::Step step) const
{
    const int each = getHeight() >= fullHeight ? pitch : tightPitch;
    const int more = juce::jmax(0, editor.wantedHeight() - 76); // a third line of sizes
    return firstBaseline + each * static_cast<int>(step) + (step > FirstSteps::pairs ? more : 0);
}

void FirstRunSteps::resized()
{
    where.placeAt(textX, baselineOf(FirstSteps::where));
    editor.setBounds(textX - 8, baselineOf(FirstSteps::pairs) - 24, textWide + 16, editor.wantedHeight());
    care.placeEndAt(textX + textWide, baselineOf(FirstSteps::care));
}

juce::String FirstRunSteps::firstTakeHead() const
{
    if (!view().trial.hereNow.empty())
        return juce::String(view().trial.hereNow) + ", at the seat";
    const auto& monitors = view().trial.trial->monitors;
    return monitors.empty() ? juce::String("The first pair, at the seat")
                            : juce::String(monitors.front().name) + ", upright, at the seat";
}

juce::String FirstRunSteps::firstTakeWords() const
{
    return juce::String(view().times.pair ? "Left, then right, " : "One sweep, ") +
           juce::String(view().times.totalSeconds(), 1) +
           " s. Then lift it and stand it up again: that is what the trial weighs everything against.";
}

void FirstRunSteps::paintStep(const Ink& pen, FirstSteps::Step step) const
{
    const auto y = static_cast<float>(baselineOf(step));
    const bool now = steps.next() == step;
    pen.text(wordX, y, stepNames[static_cast<std::size_t>(step)], 15.0f, palette().ink, Weight::semibold);
    pen.text(wordX, y + 18.0f, steps.stateOf(step), 13.0f, now ? palette().ink : palette().third,
             Weight::semibold);
    const auto paragraph = [&](const juce::String& words, float drop)
    { pen.paragraph(textX, y + drop, words, textWide, 14.0f, 19.0f, palette().second, Weight::medium); };
    if (step == FirstSteps::where)
        paragraph(whereWords, 28.0f);
    if (step == FirstSteps::pairs && view().trial.trial->monitors.empty())
        paragraph(namesWords, 23.0f);
    if (step == FirstSteps::care)
    {
        pen.text(textX, y, careHead, 15.0f, palette().ink, Weight::semibold);
        paragraph(careWords, 23.0f);
    }
    if (step == FirstSteps::firstTake)
    {
        pen.text(textX, y, fitted(firstTakeHead(), textWide, 15.0f, Weight::semibold), 15.0f, palette().ink,
                 Weight::semibold);
        paragraph(firstTakeWords(), 23.0f);
    }
    if (step != FirstSteps::firstTake)
    {
        const auto next = static_cast<float>(baselineOf(static_cast<FirstSteps::Step>(step + 1)));
        pen.line(wordX, next - 26.0f, textX + textWide, next - 26.0f, palette().grid);
    }
}

void FirstRunSteps::paint(juce::Graphics& g)
{
    const auto pen = ink(g);
    pen.text(wordX, 30.0f, "Four steps to the first curve", 16.0f, palette().ink, Weight::semibold);
    for (const auto step : { FirstSteps::where, FirstSteps::pairs, FirstSteps::care, FirstSteps::firstTake })
        paintStep(pen, step);
    const auto next = std::min(steps.next(), FirstSteps::firstTake);
    const auto y = juce::jmax(48.0f, static_cast<float>(baselineOf(next)) - 16.0f);
    pen.line(threadX, 44.0f, threadX, y, palette().ink, 1.25f);
    pen.bob(threadX, y, 7.5f);
}

}
