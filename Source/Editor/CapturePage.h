#pragma once

#include "Editor/CaptionSentence.h"
#include "Editor/CaptureWords.h"
#include "Editor/Meter.h"
#include "Editor/ResponseChart.h"
#include "Editor/TakeNotes.h"
#include "Editor/TimeLine.h"

namespace plumbline
{

/** Capture: one take of the stance that stands here, from its settings to its curves. */
class CapturePage final : public Part
{
public:
    explicit CapturePage(WindowContext& context);

    void viewChanged() override;
    void liveChanged() override;
    void resized() override;

    CaptureWords& words() noexcept { return said; }

    CaptionSentence& sentence() noexcept { return caption; }

    TakeNotes& takeSummary() noexcept { return summary; }

private:
    void buildCaption();
    void changePlan(const std::function<void(TakePlan&)>& how);
    void fillCaption();
    void showCurves();

    CaptureWords said;
    TimeLine time;
    CaptionSentence caption;
    ResponseChart chart;
    TakeNotes summary;
    Meter microphone, loopback;
    std::shared_ptr<const TakeCurves> shownNewest, shownBefore;
    std::string shownStance = "?"; ///< no stance's name: the first look shows something
};

}
