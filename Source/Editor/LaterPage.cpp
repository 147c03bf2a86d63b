#include "Editor/LaterPage.h"

#include "Editor/StageNotes.h"

namespace plumbline
{

namespace
{

juce::String willDo(Stage stage)
{
    if (stage == Stage::compare)
        return "It will set the stances against each other and say which leads, by how much, and where it is "
               "too close to call.";
    if (stage == Stage::correct)
        return "It will even out what is left, within reason, and let you hear it on the mix at matched "
               "loudness.";
    return "It will listen to your mix and say when a monitor no longer plays as it was stored.";
}

juce::String willBeDrawn(Stage stage)
{
    if (stage == Stage::compare)
        return "Here one stance will be drawn, less another.";
    if (stage == Stage::correct)
        return "Here a stance will be drawn as it stands, and as it would be.";
    return "Here the mix will be drawn, less what was stored.";
}

juce::String headline(Stage stage)
{
    return nameOf(stage) + " comes in a later version.";
}

}

LaterPage::LaterPage(WindowContext& windowContext, Stage stageToCome)
    : Part(windowContext), stage(stageToCome)
{
    setTitle(headline(stage));
    setDescription(willDo(stage));
}

void LaterPage::paint(juce::Graphics& g)
{
    const auto pen = ink(g);
    constexpr auto top = static_cast<float>(place::headerHeight);
    pen.text(place::wordsLeft, 106.0f - top, headline(stage), 24.0f, palette().ink, Weight::semibold);
    pen.paragraph(place::wordsLeft, 137.0f - top, willDo(stage), place::wordsRight - place::wordsLeft, 15.0f,
                  21.0f, palette().ink, Weight::medium);
    pen.text((place::plotLeft + place::plotRight) / 2.0f, (place::plotTop + place::plotBottom) / 2.0f - top,
             willBeDrawn(stage), 15.0f, palette().second, Weight::medium, Ink::Anchor::middle);
}

}
