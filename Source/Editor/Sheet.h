#pragma once

#include "Editor/Header.h"
#include "Editor/Strip.h"

namespace plumbline
{

/** Everything in the window, unscaled: header, board, the page of the stage, strip, and what opens over them.
    Fills in context.goTo, showCare and showTrialMenu. */
class Sheet final : public Part
{
public:
    explicit Sheet(WindowContext& windowContext);
    ~Sheet() override;

    void viewChanged() override;
    void liveChanged() override;

    /** Closes what lies over the page; if nothing does, goes back to the stage before. */
    void closeOrStepBack();

    bool careIsOpen() const { return care->isVisible(); }

    bool menuIsOpen() const { return menu->isVisible(); }

    bool stripIsShown() const { return strip.isVisible(); }

    Header& header() noexcept { return head; }

    void paint(juce::Graphics& g) override;
    void mouseDown(const juce::MouseEvent& event) override;

private:
    void goTo(Stage stage);
    void showStage(Stage stage);
    void showCare(bool open);
    void showMenu(bool open);
    /** Shows what belongs to the stage and is not covered. */
    void arrange();
    void put(Part& part, bool shown);
    bool isFirstRun() const;

    Part& page() const { return *pages[static_cast<std::size_t>(context.stage)]; }

    Header head;
    Strip strip;
    std::array<std::unique_ptr<Part>, 5> pages;
    std::unique_ptr<Part> board, care, menu;
    std::vector<Stage> before; ///< stages shown until now, the newest last
};

}
