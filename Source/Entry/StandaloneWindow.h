#pragma once

#include <functional>
#include <juce_audio_devices/juce_audio_devices.h>
#include <juce_audio_processors/juce_audio_processors.h>
#include <juce_gui_basics/juce_gui_basics.h>
#include <memory>

namespace plumbline
{

/** The window of our own application: the processor's editor, and above it a line for what the application
    itself has to say (no audio device, settings that could not be read). */
class StandaloneWindow final : public juce::DocumentWindow
{
public:
    /** [message] @param onClose asked to close by the user; the window itself stays until it is deleted
        @param openAudioSettings what the button beside a notice does */
    StandaloneWindow(juce::AudioProcessor& processor, const juce::String& placement,
                     std::function<void()> onClose, std::function<void()> openAudioSettings);
    ~StandaloneWindow() override;

    /** [message] Says something above the editor, until the user puts it away. Empty: nothing to say. */
    void setNotice(const juce::String& words);

    /** [message] Where the window is, for the next time. Puts the notice away. */
    juce::String placement();

    void closeButtonPressed() override;

private:
    class Content;

    std::function<void()> closeAsked;
    Content* content = nullptr; ///< owned by the base
};

/** Device, rate, block and channels, in a window of its own that stands beside the other. */
class AudioSettingsWindow final : public juce::DocumentWindow
{
public:
    /** [message] @param devices outlives the window */
    AudioSettingsWindow(juce::AudioDeviceManager& devices, juce::Component& beside);

    void closeButtonPressed() override { setVisible(false); }

    bool keyPressed(const juce::KeyPress& key) override;
};

}
