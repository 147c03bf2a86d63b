#pragma once

#include "Editor/Keys.h"
#include "Editor/Sheet.h"

#include <juce_audio_processors/juce_audio_processors.h>

namespace plumbline
{

/** The window: one sheet of 1200 x 760 px under one scale. It looks at the session thirty times a second and
    tells its parts what changed; they repaint only that. [message] throughout; needs no display until it is put
    on the desktop. */
class EditorWindow final : public juce::AudioProcessorEditor, private juce::Timer
{
public:
    /** @param session must outlive the window */
    EditorWindow(juce::AudioProcessor& processor, EditorInterface& session);
    ~EditorWindow() override;

    /** One look at the session: what the timer does. */
    void look();

    Sheet& sheet() noexcept { return *content; }

    Keys& keys() noexcept { return *wholeKeys; }

    Stage stage() const noexcept { return context.stage; }

    void paint(juce::Graphics& g) override;
    void resized() override;

    static constexpr int looksPerSecond = 30;

private:
    void timerCallback() override { look(); }

    void takeView();

    WindowContext context;
    std::uint64_t seen = 0; ///< version of context.view
    std::unique_ptr<Sheet> content;
    std::unique_ptr<Keys> wholeKeys;
};

}
