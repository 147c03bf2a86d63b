#pragma once

#include "Editor/EditorWindow.h"
#include "Support/FakeSession.h"
#include "Support/HeadlessDesk.h"
#include "Support/SilentProcessor.h"

#include <catch2/catch.hpp>

namespace plumbline::test
{

/** One pair named and standing there, the cautions read, nothing taken. */
inline SessionView readySession()
{
    SessionView view;
    auto trial = std::make_shared<Trial>();
    trial->name = "Mill Lane Room";
    trial->orientations = usualOrientations();
    trial->monitors.emplace_back().name = "Heron 6";
    trial->stances = { { "Heron 6", "upright" } };
    view.trial.trial = trial;
    view.trial.hereNow = "Heron 6, upright";
    view.careWasRead = true;
    return view;
}

/** A window on a headless desk, with the keyboard. */
struct OpenWindow
{
    explicit OpenWindow(SessionView view = readySession())
    {
        session.now.sampleRateHz = 48000.0;
        session.now.returnConnected = true;
        session.show(std::move(view));
        window = std::make_unique<EditorWindow>(processor, session);
        desk = std::make_unique<HeadlessDesk>(*window);
        window->grabKeyboardFocus();
        window->look();
    }

    ~OpenWindow()
    {
        desk.reset();
        window.reset();
    }

    void phase(LiveState::Phase phase)
    {
        session.now.phase = phase;
        window->look();
    }

    int asked(const std::string& command) const
    {
        return static_cast<int>(std::count(session.asked.begin(), session.asked.end(), command));
    }

    bool type(int key, int modifiers = 0)
    {
        return desk->type(juce::KeyPress(key, juce::ModifierKeys(modifiers), 0));
    }

    /** A text field that has the keyboard, somewhere in the window. */
    void focusTextField()
    {
        window->sheet().addAndMakeVisible(field);
        field.setBounds(700, 400, 100, 30);
        field.grabKeyboardFocus();
        window->look();
        REQUIRE(field.hasKeyboardFocus(false));
    }

    juce::ScopedJuceInitialiser_GUI juceRuns;
    SilentProcessor processor;
    FakeSession session;
    juce::TextEditor field;
    std::unique_ptr<EditorWindow> window;
    std::unique_ptr<HeadlessDesk> desk;
};

inline constexpr int command = juce::ModifierKeys::commandModifier;

}
