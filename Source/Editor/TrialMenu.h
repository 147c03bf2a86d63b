#pragma once

#include "Editor/CaptionSentence.h"
#include "Editor/LinkButton.h"
#include "Editor/MessagePlate.h"
#include "Editor/WordSwitch.h"

namespace plumbline
{

/** Under the trial's name: what it is called, where it lives and how that stands; other trials; how the
    window looks. Its height follows what it has to say. */
class TrialMenu final : public Part
{
public:
    explicit TrialMenu(WindowContext& context);
    ~TrialMenu() override;

    static constexpr int width = 480;

    /** Asks for a folder and tells it, or is never answered. The computer's own chooser unless replaced.
        First the title, then the folder to begin in. */
    std::function<void(const juce::String&, const juce::String&, std::function<void(const juce::String&)>)>
        chooseFolder;

    void viewChanged() override;
    bool keyPressed(const juce::KeyPress& key) override;
    void paint(juce::Graphics& g) override;

    LinkButton& renameLink() noexcept { return rename; }

    LinkButton& newLink() noexcept { return begin; }

    LinkButton& openLink() noexcept { return openAnother; }

    LinkButton& saveLink() noexcept { return save; }

    LinkButton& audioLink() noexcept { return audio; }

    TextEntry& entry() noexcept { return typed; }

    WordSwitch& shadeSwitch() noexcept { return shade; }

    WordSwitch& motionSwitch() noexcept { return motion; }

    CaptionSentence& scaleSentence() noexcept { return scale; }

    const std::vector<std::unique_ptr<LinkButton>>& recent() const noexcept { return recents; }

    /** Why the last name was refused; empty if it was not. */
    const juce::String& refusal() const noexcept { return remark; }

    /** Where the trial lives and how that stands. */
    juce::String stateWords() const;
    bool stateNeedsAttention() const;

private:
    void connectActs();
    void buildAppearance();
    void beginTyping(bool forNewTrial);
    void nameTyped(const juce::String& words);
    void askForFolder(const juce::String& title, bool toSave);
    void change(const std::function<void(Appearance&)>& how);
    void listRecent();
    void sayMessage();
    int layOut();
    int layActs(int y);
    int layRecent(int y);

    LinkButton rename, begin, openAnother, save, audio;
    TextEntry typed;
    MessagePlate message;
    WordSwitch shade, motion;
    CaptionSentence scale;
    std::vector<std::unique_ptr<LinkButton>> recents;
    std::vector<std::string> listed; ///< their folders
    std::unique_ptr<juce::FileChooser> chooser;
    juce::String remark;
    std::string messageCode;
    bool naming = false; ///< what is typed is a new trial's name
    std::vector<int> rules;
    int stateBaseline = 0, recentBaseline = 0, appearanceBaseline = 0, remarkBaseline = 0;
};

/** A folder as words: its last parts, with their order shown. */
juce::String folderWords(const juce::String& path);

/** Why a trial cannot be called that; empty if it can. */
juce::String trialNameRefusal(const juce::String& name);

}
