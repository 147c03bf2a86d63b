#include "Editor/MessagePlate.h"

namespace plumbline
{

namespace
{
constexpr int textLeft = 16, markWidth = 11, firstBaseline = 14, headLead = 19, restLead = 18, linkDrop = 21;
constexpr float headSize = 15.0f, restSize = 14.0f;

juce::String ended(const std::string& words)
{
    const auto sentence = juce::String(words).trim();
    return sentence.isEmpty() || juce::String(".?").containsChar(sentence.getLastCharacter())
               ? sentence
               : sentence + ".";
}
}

juce::String whatOf(const Problem& problem)
{
    return ended(problem.where.empty() ? problem.what : problem.where + ": " + problem.what);
}

juce::String remedyOf(const Problem& problem)
{
    return ended(problem.remedy);
}

MessagePlate::MessagePlate(WindowContext& windowContext) : Part(windowContext), act(windowContext)
{
    act.onClick = [this]
    {
        if (const auto asked = onLink)
            asked();
    };
    addChildComponent(act);
}

void MessagePlate::say(bool attend, const juce::String& what, const juce::String& more,
                       const juce::String& linkWords)
{
    if (attend == mustAttend && what == head && more == rest && linkWords == act.getButtonText())
        return;
    mustAttend = attend;
    head = what;
    rest = more;
    act.say(linkWords);
    act.setVisible(linkWords.isNotEmpty());
    setTitle(what + (more.isEmpty() ? juce::String() : " " + more));
    resized();
    repaint();
}

juce::StringArray MessagePlate::headLines(int width) const
{
    const int measure = width - textLeft - (mustAttend ? markWidth + 1 : 0);
    return brokenIntoLines(head, static_cast<float>(measure), headSize, Weight::semibold);
}

juce::StringArray MessagePlate::moreLines(int width) const
{
    return rest.isEmpty()
               ? juce::StringArray()
               : brokenIntoLines(rest, static_cast<float>(width - textLeft), restSize, Weight::semibold);
}

int MessagePlate::heightAt(int width) const
{
    const int lines = headLines(width).size() * headLead + moreLines(width).size() * restLead;
    return lines + (act.isVisible() ? linkDrop : 2);
}

void MessagePlate::resized()
{
    const int baseline = firstBaseline + (headLines(getWidth()).size() - 1) * headLead +
                         moreLines(getWidth()).size() * restLead + linkDrop;
    act.placeAt(textLeft, baseline);
}

void MessagePlate::paint(juce::Graphics& g)
{
    const auto pen = ink(g);
    pen.plate({ 0.0f, 0.0f, 3.0f, static_cast<float>(heightAt(getWidth())) },
              mustAttend ? palette().attend : palette().ink, 0.0f);
    float baseline = firstBaseline;
    const float x = mustAttend ? pen.attendMark(textLeft, baseline) + 1.0f : textLeft;
    for (const auto& line : headLines(getWidth()))
    {
        pen.text(x, baseline, line, headSize, palette().ink, Weight::semibold);
        baseline += headLead;
    }
    for (const auto& line : moreLines(getWidth()))
    {
        pen.text(textLeft, baseline + 1.0f, line, restSize, palette().second, Weight::semibold);
        baseline += restLead;
    }
}

}
