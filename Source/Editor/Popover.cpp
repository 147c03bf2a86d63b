#include "Editor/Popover.h"

#include "Editor/Sheet.h"
#include "Editor/StopFirst.h"
#include "Editor/TextEntry.h"

namespace plumbline
{

namespace
{
/** The window's sheet, which has the anchor's own scale; without one the outermost component. */
juce::Component& rootOf(juce::Component& anchor)
{
    auto* root = &anchor;
    while (dynamic_cast<Sheet*>(root) == nullptr && root->getParentComponent() != nullptr)
        root = root->getParentComponent();
    return *root;
}

bool isInPopover(const juce::Component* component)
{
    for (; component != nullptr; component = component->getParentComponent())
        if (dynamic_cast<const Popover*>(component) != nullptr)
            return true;
    return false;
}
}

/** Closes the popover when what it belongs to leaves the screen. */
struct Popover::Anchor final : juce::ComponentMovementWatcher
{
    Anchor(Popover& opened, juce::Component& anchor)
        : juce::ComponentMovementWatcher(&anchor), popover(opened)
    {
    }

    void componentMovedOrResized(bool, bool) override {}

    void componentPeerChanged() override {}

    void componentVisibilityChanged() override { popover.close(); }

    Popover& popover;
};

Popover::Popover(WindowContext& windowContext) : Part(windowContext)
{
    setWantsKeyboardFocus(true);
    setFocusContainerType(FocusContainerType::keyboardFocusContainer);
}

Popover::~Popover()
{
    if (base != nullptr)
        base->removeMouseListener(&outside);
}

void Popover::openBeside(juce::Component& anchor, juce::Rectangle<int> area, int width, int height)
{
    constexpr int gap = 4;
    auto& root = rootOf(anchor);
    const auto at = root.getLocalArea(&anchor, area);
    const auto room = root.getLocalBounds();
    const auto x = juce::jlimit(0, juce::jmax(0, room.getWidth() - width - gap), at.getX());
    const auto below = at.getBottom() + gap;
    const auto y = below + height <= room.getHeight() ? below : juce::jmax(0, at.getY() - gap - height);
    base = &root;
    watched = std::make_unique<Anchor>(*this, anchor);
    setBounds(x, y, width, height);
    root.addAndMakeVisible(*this);
    root.addMouseListener(&outside, true);
    toFront(false);
    grabKeyboardFocus();
}

void Popover::close()
{
    if (base == nullptr)
        return;
    base->removeMouseListener(&outside);
    base->removeChildComponent(this);
    base = nullptr;
    watched.reset();
    if (const auto closed = onClose)
        closed();
}

bool Popover::keyPressed(const juce::KeyPress& key)
{
    if (!key.isKeyCode(juce::KeyPress::escapeKey) || stopComesFirst(context.live))
        return false;
    close();
    return true;
}

void Popover::paint(juce::Graphics& g)
{
    const auto area = getLocalBounds().toFloat();
    ink(g).plate(area, palette().plate, 4.0f);
    ink(g).box(area, palette().second, 4.0f);
}

void Popover::Outside::mouseDown(const juce::MouseEvent& event)
{
    if (!isInPopover(event.originalComponent))
        popover.close();
}

bool closeWhatIsOpen(juce::Component& window)
{
    if (auto* entry = dynamic_cast<TextEntry*>(juce::Component::getCurrentlyFocusedComponent());
        entry != nullptr && entry->isTyping() && window.isParentOf(entry))
    {
        entry->abandon();
        return true;
    }
    for (int i = window.getNumChildComponents(); --i >= 0;)
        if (auto* popover = dynamic_cast<Popover*>(window.getChildComponent(i)))
            if (popover->isOpen())
            {
                popover->close();
                return true;
            }
    return false;
}

}
