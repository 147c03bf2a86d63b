#pragma once

#include "Editor/Part.h"

namespace plumbline
{

/** Keys that hold in the whole window. They hang on whatever has the keyboard and are asked before it, so that
    Escape stops also out of a text field, and on what the window lies in, for when nothing has the keyboard.
    Space is never taken: it is the host's. */
class Keys final : public juce::KeyListener, private juce::FocusChangeListener
{
public:
    /** @param whole the window; must outlive this
        @param backOut what Escape does besides stopping, in silence */
    Keys(WindowContext& windowContext, juce::Component& whole, std::function<void()> backOut);
    ~Keys() override;

    bool keyPressed(const juce::KeyPress& key, juce::Component* origin) override;

    /** Hangs on that component, if it lies where the window lies, and leaves the one before. */
    void follow(juce::Component* focused);

private:
    void globalFocusChanged(juce::Component* focused) override { follow(focused); }

    void hangOn(juce::Component::SafePointer<juce::Component>& held, juce::Component* wanted);
    bool escape(const juce::Component* origin);
    bool withCommand(int code);

    WindowContext& context;
    juce::Component& window;
    std::function<void()> closeOrStepBack;
    juce::Component::SafePointer<juce::Component> followed, outermost;
};

/** The next step of the window's scale. @param direction above 0 larger, under 0 smaller, 0 back to 100 */
int nextScale(int percent, int direction);

}
