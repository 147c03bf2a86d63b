#include "Editor/Keys.h"

#include "Editor/StopFirst.h"

#include <algorithm>
#include <array>

namespace plumbline
{

namespace
{

constexpr std::array scales{ 100, 125, 150, 175, 200, 250 };

using Key = juce::KeyPress;

/** 0..4 for the keys 1..5, above the letters or on the number pad; otherwise nothing. */
std::optional<Stage> stageOf(int code)
{
    for (int i = 0; i < 5; ++i)
        if (code == '1' + i || code == Key::numberPad1 + i)
            return static_cast<Stage>(i);
    return {};
}

/** What a key asks of the scale: 1, -1 or 0; nothing if it is another key. */
std::optional<int> scaleStep(int code)
{
    if (code == '=' || code == '+' || code == Key::numberPadAdd)
        return 1;
    if (code == '-' || code == Key::numberPadSubtract)
        return -1;
    if (code == '0' || code == Key::numberPad0)
        return 0;
    return {};
}

}

int nextScale(int percent, int direction)
{
    if (direction == 0)
        return 100;
    if (direction > 0)
    {
        const auto* above = std::upper_bound(scales.begin(), scales.end(), percent);
        return above == scales.end() ? scales.back() : *above;
    }
    const auto* notBelow = std::lower_bound(scales.begin(), scales.end(), percent);
    return notBelow == scales.begin() ? scales.front() : *(notBelow - 1);
}

Keys::Keys(WindowContext& windowContext, juce::Component& whole, std::function<void()> backOut)
    : context(windowContext), window(whole), closeOrStepBack(std::move(backOut))
{
    window.addKeyListener(this);
    juce::Desktop::getInstance().addFocusChangeListener(this);
}

Keys::~Keys()
{
    juce::Desktop::getInstance().removeFocusChangeListener(this);
    hangOn(followed, nullptr);
    hangOn(outermost, nullptr);
    window.removeKeyListener(this);
}

void Keys::follow(juce::Component* focused)
{
    auto* top = window.getTopLevelComponent();
    hangOn(outermost, top == &window ? nullptr : top);
    const auto ours = focused != nullptr && focused != &window && focused != top && top->isParentOf(focused);
    hangOn(followed, ours ? focused : nullptr);
}

void Keys::hangOn(juce::Component::SafePointer<juce::Component>& held, juce::Component* wanted)
{
    if (wanted == held.getComponent())
        return;
    if (held != nullptr)
        held->removeKeyListener(this);
    held = wanted;
    if (wanted != nullptr)
        wanted->addKeyListener(this);
}

bool Keys::keyPressed(const juce::KeyPress& key, juce::Component* origin)
{
    if (key.isKeyCode(Key::escapeKey))
        return escape(origin);
    if (key == Key(Key::F1Key))
    {
        context.showCare(true);
        return true;
    }
    const auto modifiers = key.getModifiers(); // Shift may be needed to type a plus
    return modifiers.isCommandDown() && !modifiers.isAltDown() && withCommand(key.getKeyCode());
}

/** Stop is asked for every time: what is known of the sound here is a frame old. In silence what has the
    keyboard may close itself; only what it leaves alone closes the rest. */
bool Keys::escape(const juce::Component* origin)
{
    context.session.stop();
    if (stopComesFirst(context.live))
        return true;
    if (origin != &window && origin != outermost.getComponent())
        return false;
    closeOrStepBack();
    return true;
}

bool Keys::withCommand(int code)
{
    if (const auto stage = stageOf(code))
    {
        context.goTo(*stage);
        return true;
    }
    const auto step = scaleStep(code);
    if (!step)
        return false;
    auto appearance = context.view->appearance;
    appearance.scalePercent = nextScale(appearance.scalePercent, *step);
    if (appearance != context.view->appearance)
        context.session.setAppearance(appearance);
    return true;
}

}
