#pragma once

#include "Editor/Part.h"
#include "Support/FakeSession.h"
#include "Support/HeadlessDesk.h"

#include <algorithm>

namespace plumbline::test
{

/** Passes everything on, and keeps the monitors that were described with all that was told of them. */
class Describing final : public EditorInterface
{
public:
    explicit Describing(FakeSession& told) : fake(told) {}

    std::uint64_t version() const override { return fake.version(); }

    std::shared_ptr<const SessionView> session() const override { return fake.session(); }

    LiveState live() override { return fake.live(); }

    void setPlan(const TakePlan& plan) override { fake.setPlan(plan); }

    void startTake() override { fake.startTake(); }

    void stop() override { fake.stop(); }

    void acknowledge() override { fake.acknowledge(); }

    void windowClosed() override { fake.windowClosed(); }

    void letHostStart(bool allowed) override { fake.letHostStart(allowed); }

    void usePracticeRoom(bool practice) override { fake.usePracticeRoom(practice); }

    void careWasRead() override { fake.careWasRead(); }

    void newTrial(const std::string& name, const std::string& parent) override
    {
        fake.newTrial(name, parent);
    }

    void openTrial(const std::string& folder) override { fake.openTrial(folder); }

    void saveTrialIn(const std::string& parent) override { fake.saveTrialIn(parent); }

    void describeMonitor(const std::string& formerName, const Monitor& monitor) override
    {
        described.push_back(monitor);
        fake.describeMonitor(formerName, monitor);
    }

    void nameTrial(const std::string& name) override { fake.nameTrial(name); }

    void standHere(const std::string& stance) override { fake.standHere(stance); }

    void standAgain() override { fake.standAgain(); }

    void setAppearance(const Appearance& appearance) override { fake.setAppearance(appearance); }

    void dismiss(const std::string& problemCode) override { fake.dismiss(problemCode); }

    void showAudioSettings() override { fake.showAudioSettings(); }

    std::vector<Monitor> described;

private:
    FakeSession& fake;
};

/** One page of the window on a desk without a display, over a session that writes down what it is asked. */
template <class Page>
class PageStand
{
public:
    explicit PageStand(SessionView view = {}, const LiveState& live = {}, int height = 636)
    {
        if (view.trial.trial == nullptr)
            view.trial.trial = session.content.trial.trial;
        session.now = live;
        session.show(std::move(view));
        context.view = session.session();
        context.live = live;
        page = std::make_unique<Page>(context);
        if (page->getWidth() == 0)
            page->setSize(place::width, height);
        desk = std::make_unique<HeadlessDesk>(*page);
        page->viewChanged();
        page->liveChanged();
    }

    /** As the window does when the session has changed. */
    void look()
    {
        context.view = session.session();
        page->viewChanged();
    }

    void change(const std::function<void(SessionView&)>& how)
    {
        auto view = session.content;
        how(view);
        session.show(std::move(view));
        look();
    }

    void live(const LiveState& now)
    {
        context.live = now;
        page->liveChanged();
    }

    bool wasAsked(const std::string& command) const
    {
        return std::find(session.asked.begin(), session.asked.end(), command) != session.asked.end();
    }

    bool type(int keyCode) { return desk->type(juce::KeyPress(keyCode)); }

    /** A whole click with the left button, as the desktop would tell it. @param place px of the page */
    void clickAt(juce::Point<int> place)
    {
        using Mouse = juce::MouseInputSource;
        auto& peer = *desk->getPeer();
        const auto tell = [&](juce::ModifierKeys buttons)
        {
            peer.handleMouseEvent(Mouse::InputSourceType::mouse, place.toFloat(), buttons,
                                  Mouse::defaultPressure, Mouse::defaultOrientation, ++clock);
        };
        tell({});
        tell(juce::ModifierKeys(juce::ModifierKeys::leftButtonModifier));
        tell({});
    }

    Page* operator->() const { return page.get(); }

    Page& operator*() const { return *page; }

    juce::ScopedJuceInitialiser_GUI juceRuns;
    FakeSession session;
    Describing ears{ session };
    std::vector<std::string> went; ///< "stage 1", "care opened", "care closed", "menu"
    WindowContext context{ ears,
                           session.session(),
                           {},
                           &darkPalette(),
                           Stage::connect,
                           [this](Stage stage)
                           { went.push_back("stage " + std::to_string(static_cast<int>(stage))); },
                           [this](bool open) { went.push_back(open ? "care opened" : "care closed"); },
                           [this] { went.push_back("menu"); } };
    std::unique_ptr<Page> page;
    std::unique_ptr<HeadlessDesk> desk;
    juce::int64 clock = 1000; ///< ms, of the mouse
};

/** Everything that has the keyboard can be named by a screen reader, and is large enough to be hit.
    @return what is not; empty if all is well */
inline juce::String namelessOrSmall(const juce::Component& whole)
{
    juce::String found;
    for (auto* child : whole.getChildren())
    {
        if (!child->isVisible())
            continue;
        if (child->getWantsKeyboardFocus() &&
            (child->getTitle().isEmpty() || child->getWidth() < 24 || child->getHeight() < 24))
            found << "[" << child->getTitle() << " " << child->getBounds().toString() << "]";
        found << namelessOrSmall(*child);
    }
    return found;
}

}
