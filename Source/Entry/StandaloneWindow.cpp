#include "Entry/StandaloneWindow.h"

#include "Editor/Fonts.h"
#include "Editor/Palette.h"

#include <juce_audio_utils/juce_audio_utils.h>

namespace plumbline
{

namespace
{
constexpr int noticeHeight = 44;

/** One line of words and two buttons. */
class NoticeBar final : public juce::Component
{
public:
    explicit NoticeBar(std::function<void()> openAudioSettings)
    {
        words.setFont(font(14.0f, Weight::semibold));
        words.setMinimumHorizontalScale(0.7f);
        words.setColour(juce::Label::textColourId, darkPalette().ink);
        for (auto* button : { &settings, &away })
        {
            button->setColour(juce::TextButton::buttonColourId, darkPalette().ground);
            button->setColour(juce::TextButton::textColourOffId, darkPalette().ink);
        }
        settings.onClick = std::move(openAudioSettings);
        addAndMakeVisible(words);
        addAndMakeVisible(settings);
        addAndMakeVisible(away);
    }

    void say(const juce::String& text)
    {
        words.setText(text, juce::dontSendNotification);
        setTitle(text);
    }

    void paint(juce::Graphics& g) override { g.fillAll(darkPalette().plate); }

    void resized() override
    {
        auto area = getLocalBounds().reduced(8, 6);
        away.setBounds(area.removeFromRight(90));
        area.removeFromRight(8);
        settings.setBounds(area.removeFromRight(130));
        area.removeFromRight(8);
        words.setBounds(area);
    }

    juce::Label words;
    juce::TextButton settings{ "Audio settings" }, away{ "Understood" };
};
}

/** Notice above, editor below. Follows the editor's own size, and gives it the size of the window. */
class StandaloneWindow::Content final : public juce::Component
{
public:
    Content(juce::AudioProcessor& processor, std::function<void()> openAudioSettings)
        : notice(std::move(openAudioSettings)), editor(processor.createEditorIfNeeded())
    {
        notice.away.onClick = [this] { setNotice({}); };
        addChildComponent(notice);
        if (editor == nullptr)
            return;
        addAndMakeVisible(*editor);
        fitAroundEditor();
    }

    ~Content() override
    {
        if (editor != nullptr)
            editor->processor.editorBeingDeleted(editor.get());
    }

    void setNotice(const juce::String& text)
    {
        notice.say(text);
        notice.setVisible(text.isNotEmpty());
        fitAroundEditor();
    }

    void resized() override
    {
        auto area = getLocalBounds();
        notice.setBounds(area.removeFromTop(barHeight()));
        const juce::ScopedValueSetter<bool> ours(laying, true);
        if (editor != nullptr)
            editor->setBounds(area);
    }

    void childBoundsChanged(juce::Component* child) override
    {
        if (child == editor.get() && !laying)
            fitAroundEditor();
    }

    juce::AudioProcessorEditor* shown() const noexcept { return editor.get(); }

    int barHeight() const noexcept { return notice.isVisible() ? noticeHeight : 0; }

private:
    void fitAroundEditor()
    {
        if (editor != nullptr)
            setSize(editor->getWidth(), editor->getHeight() + barHeight());
        resized();
    }

    NoticeBar notice;
    std::unique_ptr<juce::AudioProcessorEditor> editor;
    bool laying = false;
};

StandaloneWindow::StandaloneWindow(juce::AudioProcessor& processor, const juce::String& placement,
                                   std::function<void()> onClose, std::function<void()> openAudioSettings)
    : juce::DocumentWindow("Plumbline", darkPalette().ground, juce::DocumentWindow::allButtons),
      closeAsked(std::move(onClose))
{
    setUsingNativeTitleBar(true);
    auto made = std::make_unique<Content>(processor, std::move(openAudioSettings));
    content = made.get();
    auto* editor = made->shown();
    setContentOwned(made.release(), true);
    setResizable(editor != nullptr && editor->isResizable(), false);
    if (placement.isEmpty() || !restoreWindowStateFromString(placement))
        centreWithSize(getWidth(), getHeight());
    setVisible(true);
    if (editor != nullptr)
        editor->grabKeyboardFocus();
}

StandaloneWindow::~StandaloneWindow()
{
    clearContentComponent();
}

void StandaloneWindow::setNotice(const juce::String& words)
{
    content->setNotice(words);
}

juce::String StandaloneWindow::placement()
{
    setNotice({}); // it makes the window higher
    return getWindowStateAsString();
}

void StandaloneWindow::closeButtonPressed()
{
    closeAsked();
}

AudioSettingsWindow::AudioSettingsWindow(juce::AudioDeviceManager& devices, juce::Component& beside)
    : juce::DocumentWindow("Plumbline audio settings", darkPalette().ground,
                           juce::DocumentWindow::closeButton)
{
    constexpr int channels = 2;
    auto selector = std::make_unique<juce::AudioDeviceSelectorComponent>(devices, 0, channels, 1, channels,
                                                                         false, false, false, false);
    selector->setSize(560, 480);
    setUsingNativeTitleBar(true);
    setContentOwned(selector.release(), true);
    setResizable(true, false);
    centreAroundComponent(&beside, getWidth(), getHeight());
}

bool AudioSettingsWindow::keyPressed(const juce::KeyPress& key)
{
    if (key != juce::KeyPress::escapeKey)
        return DocumentWindow::keyPressed(key);
    setVisible(false);
    return true;
}

}
