#pragma once

#include <juce_gui_basics/juce_gui_basics.h>

namespace plumbline::test
{

/** A place to put a window without a display: the keyboard's focus works as on a desktop, keys go the way they
    go there, and what the window wants repainted is counted. */
class HeadlessDesk final : public juce::Component
{
public:
    /** @param content laid on the desk; must outlive it */
    explicit HeadlessDesk(juce::Component& content)
    {
        setSize(content.getWidth(), content.getHeight());
        content.setTopLeftPosition(0, 0);
        addAndMakeVisible(content);
        setVisible(true);
        addToDesktop(0);
    }

    ~HeadlessDesk() override { removeFromDesktop(); }

    /** As if typed: to what has the keyboard, then outwards. @return somebody took it */
    bool type(const juce::KeyPress& key) { return getPeer()->handleKeyPress(key); }

    /** Areas asked to be repainted since the last call. */
    int repaintsAsked() { return std::exchange(repaints, 0); }

    juce::ComponentPeer* createNewPeer(int styleFlags, void*) override { return new Peer(*this, styleFlags); }

private:
    struct Peer final : juce::ComponentPeer
    {
        Peer(HeadlessDesk& whose, int flags) : ComponentPeer(whose, flags), desk(whose) {}

        void* getNativeHandle() const override { return nullptr; }

        void setVisible(bool) override {}

        void setTitle(const juce::String&) override {}

        void setBounds(const juce::Rectangle<int>&, bool) override {}

        juce::Rectangle<int> getBounds() const override { return desk.getBounds(); }

        juce::Point<float> localToGlobal(juce::Point<float> point) override { return point; }

        juce::Point<float> globalToLocal(juce::Point<float> point) override { return point; }

        using ComponentPeer::globalToLocal;
        using ComponentPeer::localToGlobal;

        void setMinimised(bool) override {}

        bool isMinimised() const override { return false; }

        void setFullScreen(bool) override {}

        bool isFullScreen() const override { return false; }

        void setIcon(const juce::Image&) override {}

        bool contains(juce::Point<int> point, bool) const override
        {
            return desk.getLocalBounds().contains(point);
        }

        OptionalBorderSize getFrameSizeIfPresent() const override { return {}; }

        juce::BorderSize<int> getFrameSize() const override { return {}; }

        bool setAlwaysOnTop(bool) override { return true; }

        void toFront(bool) override {}

        void toBehind(ComponentPeer*) override {}

        bool isFocused() const override { return true; }

        void grabFocus() override {}

        void repaint(const juce::Rectangle<int>&) override { ++desk.repaints; }

        void performAnyPendingRepaintsNow() override {}

        void setAlpha(float) override {}

        juce::StringArray getAvailableRenderingEngines() override { return { "software" }; }

        void textInputRequired(juce::Point<int>, juce::TextInputTarget&) override {}

        HeadlessDesk& desk;
    };

    int repaints = 0;
};

/** The mouse's left button at a place of a component. */
inline juce::MouseEvent press(juce::Component& component, juce::Point<float> place)
{
    const auto now = juce::Time::getCurrentTime();
    return { juce::Desktop::getInstance().getMainMouseSource(),
             place,
             juce::ModifierKeys::leftButtonModifier,
             juce::MouseInputSource::defaultPressure,
             juce::MouseInputSource::defaultOrientation,
             juce::MouseInputSource::defaultRotation,
             juce::MouseInputSource::defaultTiltX,
             juce::MouseInputSource::defaultTiltY,
             &component,
             &component,
             now,
             place,
             now,
             1,
             false };
}

/** A whole click in its middle. */
inline void click(juce::Component& component)
{
    const auto event = press(component, component.getLocalBounds().toFloat().getCentre());
    component.mouseDown(event);
    component.mouseUp(event);
}

}
