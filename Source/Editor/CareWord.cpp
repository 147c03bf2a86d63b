#include "Editor/CareWord.h"

namespace plumbline
{

namespace
{

const juce::String words = "Help and care";

}

CareWord::CareWord(WindowContext& windowContext) : Pressable(windowContext, words)
{
    onPress = [this] { context.showCare(true); };
}

void CareWord::draw(const Ink& ink)
{
    const auto& colours = ink.colours();
    ink.text(static_cast<float>(getWidth() - 6), 35.0f - static_cast<float>(getY()), words, 13.0f,
             isMouseOver() ? colours.ink : colours.second, Weight::semibold, Ink::Anchor::end);
}

}
