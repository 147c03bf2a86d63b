#pragma once

#include "Editor/LinkButton.h"
#include "Editor/Popover.h"

namespace plumbline
{

/** What is to be known about a take, in words; doubts carry the attend mark. What does not fit is behind a
    link that opens all of it. */
class FaultList final : public Part
{
public:
    explicit FaultList(WindowContext& context);
    ~FaultList() override;

    void show(std::vector<Fault> faults);

    /** How many are drawn here; the rest is behind the link. */
    std::size_t shownHere() const;

    LinkButton& allLink() noexcept { return all; }

    /** The open list of all; null while it is closed. */
    Popover* panel() const noexcept { return opened.get(); }

    void resized() override;
    void paint(juce::Graphics& g) override;

    /** Draws one fault, broken into lines. @return the next baseline */
    static float draw(const Ink& ink, const Fault& fault, float x, float baseline, float measure);
    static int linesOf(const Fault& fault, float measure);

    static constexpr float lead = 18.0f;

private:
    void openAll();

    std::vector<Fault> faults; ///< doubts first
    LinkButton all;
    std::unique_ptr<Popover> opened;
};

/** Opens all that is to be known about a take.
    @param closed called once it is; may delete it */
std::unique_ptr<Popover> openFaults(WindowContext& context, const std::vector<Fault>& faults,
                                    juce::Component& anchor, std::function<void()> closed);

}
