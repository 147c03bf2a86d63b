#pragma once

#include "Editor/FaultList.h"

namespace plumbline
{

/** Beside the chart: what the last take of this set-up is, in few words, and the way to take it again. */
class TakeNotes final : public Part
{
public:
    explicit TakeNotes(WindowContext& context);

    static constexpr int width = 148, textLeft = 4;

    void viewChanged() override;
    void liveChanged() override;
    void paint(juce::Graphics& g) override;

    LinkButton& againLink() noexcept { return again; }

    LinkButton& faultsLink() noexcept { return why; }

    /** All that is to be known about the take; null while it is closed. */
    Popover* panel() const noexcept { return opened.get(); }

    juce::String head() const;
    juce::String facts() const;

    /** The height that its words take, px. */
    int usedHeight() const noexcept { return used; }

private:
    void layOut();

    std::shared_ptr<const TakeCurves> take;
    LinkButton again, why;
    std::unique_ptr<Popover> opened;
    int used = 0;
};

}
