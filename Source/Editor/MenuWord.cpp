#include "Editor/MenuWord.h"

namespace plumbline
{

MenuWord::MenuWord(WindowContext& windowContext, const juce::String& title, juce::StringArray options)
    : SentenceWord(windowContext, title), words(std::move(options))
{
    wordsChanged();
}

void MenuWord::setOptions(juce::StringArray options, juce::StringArray shortened)
{
    if (options == words && shortened == sentenceWords)
        return;
    words = std::move(options);
    sentenceWords = std::move(shortened);
    wordsChanged();
}

void MenuWord::setChosen(int row)
{
    if (row == chosen)
        return;
    chosen = row;
    wordsChanged();
}

juce::String MenuWord::shown() const
{
    return sentenceWords.size() == words.size() ? sentenceWords[chosen] : words[chosen];
}

void MenuWord::open()
{
    opened = std::make_unique<ChoiceMenu>(context, name, words, chosen);
    opened->onClose = [this]
    {
        opened.reset();
        grabKeyboardFocus();
    };
    opened->onChosen = [safe = juce::Component::SafePointer<MenuWord>(this)](int row)
    {
        if (safe != nullptr && safe->onChosen != nullptr)
            safe->onChosen(row);
    };
    opened->openUnder(*this, wordsArea());
}

void MenuWord::mouseUp(const juce::MouseEvent& event)
{
    if (isEnabled() && getLocalBounds().contains(event.getPosition()))
        open();
}

}
