#include "Editor/TrialMenu.h"

namespace plumbline
{

namespace
{
constexpr int leftX = 20, labelWidth = 96;

juce::String nameOfTrial(const SessionView& view)
{
    const juce::String name(view.trial.trial->name);
    return name.isEmpty() ? juce::String("A new trial") : name;
}
}

int TrialMenu::layOut()
{
    rules.clear();
    int y = 34;
    rename.setVisible(!typed.isTyping());
    rename.placeEndAt(width - leftX, y);
    typed.setBounds(leftX - 8, y - 21, width - 2 * leftX + 16, 30);
    stateBaseline = y + 24;
    y = stateBaseline +
        17 * brokenIntoLines(stateWords(), width - 2.0f * leftX - 12.0f, 13.0f, Weight::semibold).size();
    if (message.isVisible())
    {
        message.setBounds(leftX, y, width - 2 * leftX, message.heightAt(width - 2 * leftX) + 6);
        y = message.getBottom() + 4;
    }
    y = layRecent(layActs(y));
    rules.push_back(y);
    appearanceBaseline = y + 30;
    shade.placeAt(leftX + labelWidth, appearanceBaseline);
    scale.placeAt(shade.getRight() + 8, appearanceBaseline, 120.0f);
    motion.placeAt(leftX + labelWidth, appearanceBaseline + 34);
    audio.placeEndAt(width - leftX, appearanceBaseline + 34);
    return appearanceBaseline + 54;
}

int TrialMenu::layActs(int y)
{
    y += 12;
    begin.placeAt(leftX, y);
    openAnother.placeAt(begin.getRight() + 14, y);
    save.placeAt(openAnother.getRight() + 14, y);
    remarkBaseline = remark.isEmpty() ? 0 : y + 26;
    return remark.isEmpty() ? y + 16 : y + 42;
}

int TrialMenu::layRecent(int y)
{
    if (recents.empty())
    {
        recentBaseline = 0;
        return y;
    }
    rules.push_back(y);
    recentBaseline = y + 24;
    int baseline = recentBaseline;
    for (auto& link : recents)
    {
        link->placeAt(leftX + labelWidth, baseline, static_cast<float>(width - 2 * leftX - labelWidth));
        baseline += 26;
    }
    return baseline - 8;
}

void TrialMenu::paint(juce::Graphics& g)
{
    const auto pen = ink(g);
    const auto area = getLocalBounds().toFloat();
    constexpr auto x = static_cast<float>(leftX);
    pen.plate(area, palette().plate, 4.0f);
    pen.box(area, palette().second, 4.0f);
    if (!typed.isTyping())
        pen.text(x, 34.0f,
                 fitted(nameOfTrial(view()), static_cast<float>(rename.getX()) - x - 12.0f, 16.0f,
                        Weight::semibold),
                 16.0f, palette().ink, Weight::semibold);
    const auto baseline = static_cast<float>(stateBaseline);
    const float from = stateNeedsAttention() ? pen.attendMark(x, baseline, 9.0f) : x;
    pen.paragraph(from, baseline, stateWords(), width - 2.0f * x - 12.0f, 13.0f, 17.0f,
                  stateNeedsAttention() ? palette().attend : palette().second, Weight::semibold);
    for (const int rule : rules)
        pen.rule(static_cast<float>(rule), x, width - x);
    if (recentBaseline > 0)
        pen.text(x, static_cast<float>(recentBaseline), "Recent", 13.0f, palette().third, Weight::semibold);
    pen.text(x, static_cast<float>(appearanceBaseline), "The window", 13.0f, palette().third,
             Weight::semibold);
    pen.text(x, static_cast<float>(appearanceBaseline + 34), "Motion", 13.0f, palette().third,
             Weight::semibold);
    if (remarkBaseline > 0)
        pen.text(pen.attendMark(x, static_cast<float>(remarkBaseline), 9.0f),
                 static_cast<float>(remarkBaseline), remark, 13.0f, palette().attend, Weight::semibold);
}

}
