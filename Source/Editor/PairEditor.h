#pragma once

#include "Editor/CaptionSentence.h"
#include "Editor/LinkButton.h"

namespace plumbline
{

/** One pair at a time: its name, and what is known of its sizes as a sentence. Everything but the name may be
    left out. */
class PairEditor final : public Part
{
public:
    explicit PairEditor(WindowContext& context);

    std::function<void(const juce::String&)> onRemark;
    /** Another monitor is shown, or it is drawn otherwise. */
    std::function<void()> onShown;

    void viewChanged() override;
    void resized() override;

    /** The monitor that is shown; null while there is none. */
    const Monitor* shown() const;
    std::size_t shownRow() const;
    void show(const juce::String& monitorName);

    void beginNaming(bool another);

    TextEntry& entry() noexcept { return name; }

    CaptionSentence& sizes() noexcept { return sentence; }

    CaptionSentence& which() noexcept { return head; }

    LinkButton& renameLink() noexcept { return rename; }

    LinkButton& addLink() noexcept { return add; }

    /** The height that it needs, px. */
    int wantedHeight() const;

private:
    using Size = std::optional<double> Monitor::*;
    void addSize(const juce::String& id, const juce::String& title, const FigureRange& range, double first,
                 Size size, double factor);
    void fillIn(const Monitor& monitor);
    void named(const juce::String& words);
    void describe(const Monitor& changed);

    CaptionSentence head, sentence;
    LinkButton rename, add;
    TextEntry name;
    juce::String selected;
    std::size_t knownMonitors = 0;
    bool naming = false; ///< what is typed is another monitor's name
};

}
