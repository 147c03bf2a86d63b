#pragma once

#include "Editor/ChoiceMenu.h"
#include "Editor/SentenceWord.h"

namespace plumbline
{

/** A word of a sentence that is chosen from a menu. */
class MenuWord final : public SentenceWord
{
public:
    MenuWord(WindowContext& context, const juce::String& title, juce::StringArray options);

    std::function<void(int)> onChosen;

    /** @param shortened what the sentence says instead of the menu's own words; as many as options, or none
        */
    void setOptions(juce::StringArray options, juce::StringArray shortened = {});
    void setChosen(int row);

    /** The open menu; null while it is closed. */
    ChoiceMenu* menu() const noexcept { return opened.get(); }

    juce::String shown() const override;
    void open() override;
    void mouseUp(const juce::MouseEvent& event) override;

private:
    juce::StringArray words, sentenceWords;
    int chosen = 0;
    std::unique_ptr<ChoiceMenu> opened;
};

}
