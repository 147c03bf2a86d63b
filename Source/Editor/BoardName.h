#pragma once

#include "Editor/BoardModel.h"
#include "Editor/Pressable.h"

namespace plumbline
{

/** The name of a row of the board and what is known of the monitor; in the row for one more pair, the word
    that asks for its name. Pressed there, or double-clicked, it is to be typed. */
class BoardName final : public Pressable
{
public:
    explicit BoardName(WindowContext& context);

    static constexpr int left = 9, width = 92, height = 44; ///< in the board, px
    static constexpr int baseline = 21;                     ///< of the name

    std::function<void()> onName;
    std::function<void(FocusChangeType)> onFocus;

    /** @param state nothing: the row for one more pair */
    void show(const BoardRowState* state);

    bool asksForName() const noexcept { return !monitorName.has_value(); }

    void mouseUp(const juce::MouseEvent& event) override;
    void mouseDoubleClick(const juce::MouseEvent& event) override;
    void focusGained(FocusChangeType cause) override;
    std::unique_ptr<juce::AccessibilityHandler> createAccessibilityHandler() override;

private:
    void draw(const Ink& ink) override;

    std::optional<juce::String> monitorName;
    juce::String known;
};

}
