#pragma once

#include "Editor/LinkButton.h"

namespace plumbline
{

/** What a message says, beside the thing it concerns: what is, what was kept or is to be done, and one link.
    */
class MessagePlate final : public Part
{
public:
    explicit MessagePlate(WindowContext& context);

    std::function<void()> onLink;

    /** @param attend marks it: the user must do something; @param linkWords empty: no link */
    void say(bool attend, const juce::String& what, const juce::String& more, const juce::String& linkWords);

    /** The height that its words need, px. */
    int heightAt(int width) const;

    LinkButton& link() noexcept { return act; }

    void resized() override;
    void paint(juce::Graphics& g) override;

private:
    juce::StringArray headLines(int width) const;
    juce::StringArray moreLines(int width) const;

    bool mustAttend = false;
    juce::String head, rest;
    LinkButton act;
};

/** A problem as a plate says it: its first sentence, and what can be done. */
juce::String whatOf(const Problem& problem);
juce::String remedyOf(const Problem& problem);

}
