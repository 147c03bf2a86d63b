#pragma once

#include "Editor/Part.h"

namespace plumbline
{

/** Something that opens over the window beside what it belongs to, and never holds the window up: the rest
    stays to be used, Stop above all. A click elsewhere or Escape closes it; Escape is Stop's while anything
    sounds. */
class Popover : public Part
{
public:
    explicit Popover(WindowContext& context);
    ~Popover() override;

    /** Called after it was closed and taken off the window; may delete it. */
    std::function<void()> onClose;

    /** Opens under `area` of `anchor`, or over it where there is no room beneath. */
    void openBeside(juce::Component& anchor, juce::Rectangle<int> area, int width, int height);
    void close();

    bool isOpen() const noexcept { return base != nullptr; }

    bool keyPressed(const juce::KeyPress& key) override;
    void paint(juce::Graphics& g) override;

private:
    struct Anchor;

    struct Outside final : juce::MouseListener
    {
        explicit Outside(Popover& watched) : popover(watched) {}

        void mouseDown(const juce::MouseEvent& event) override;
        Popover& popover;
    };

    Outside outside{ *this };
    std::unique_ptr<Anchor> watched;
    juce::Component::SafePointer<juce::Component> base;
};

/** What Escape does before it closes a page or steps back: closes the popover that lies on top, or abandons
    what is being typed. @return whether there was anything */
bool closeWhatIsOpen(juce::Component& window);

}
