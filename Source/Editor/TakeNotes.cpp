#include "Editor/TakeNotes.h"

#include "Editor/CaptureSayings.h"
#include "Editor/Figures.h"

namespace plumbline
{

namespace
{
constexpr float factSize = 13.0f, factLead = 16.5f, headBaseline = 14.0f;

juce::String hertz(double hz)
{
    return hz < 995.0 ? figureWords(hz, { 0, 1e6, 1, 0, "Hz" })
                      : figureWords(hz / 1000.0, { 0, 1e3, 1, 1, "kHz" });
}

/** From where to where both sides are known, in words; gaps in between are the chart's to show. */
juce::String knownWords(const TakeCurves& take)
{
    double from = 0.0, to = 1e9;
    for (const auto* side : { &take.left, take.right ? &*take.right : nullptr })
    {
        if (side == nullptr)
            continue;
        const auto first = std::find(side->known.begin(), side->known.end(), true);
        if (first == side->known.end())
            return "Nothing of it is known.";
        const auto last = std::find(side->known.rbegin(), side->known.rend(), true).base() - 1;
        from = std::max(from, side->frequencyHz[static_cast<std::size_t>(first - side->known.begin())]);
        to = std::min(to, side->frequencyHz[static_cast<std::size_t>(last - side->known.begin())]);
    }
    return "Known from " + hertz(from) + " to " + hertz(to) + ".";
}
}

TakeNotes::TakeNotes(WindowContext& windowContext)
    : Part(windowContext), again(windowContext, "Take it again", factSize), why(windowContext, {}, factSize)
{
    again.onClick = [this] { context.session.startTake(); };
    why.onClick = [this]
    {
        if (take != nullptr)
            opened = openFaults(context, take->faults, why, [this] { opened.reset(); });
    };
    addChildComponent(again);
    addChildComponent(why);
    setInterceptsMouseClicks(false, true);
    viewChanged();
}

juce::String TakeNotes::head() const
{
    if (take == nullptr)
        return {};
    return "Take " + juce::String(take->take) + (take->doubtful() ? ": doubtful" : ": good");
}

juce::String TakeNotes::facts() const
{
    if (take == nullptr)
        return {};
    return knownWords(*take) + (take->takeId.empty() ? " Held in memory." : "");
}

void TakeNotes::viewChanged()
{
    take = takeOfThisSetUp(view());
    setTitle(head() + (take != nullptr ? ". " + facts() : juce::String()));
    const auto remarks = take != nullptr ? take->faults.size() : 0;
    why.setVisible(remarks > 0);
    why.say(remarks == 1 ? juce::String("1 remark") : juce::String(remarks) + " remarks");
    liveChanged();
    layOut();
    repaint();
}

void TakeNotes::liveChanged()
{
    const auto act = takeActOf(view(), context.live);
    again.setVisible(take != nullptr && act.kind == TakeAct::Kind::start && act.whyOff.isEmpty());
}

void TakeNotes::layOut()
{
    used = 0;
    if (take == nullptr)
        return;
    const int lines =
        brokenIntoLines(facts(), width - 2.0f * textLeft - 8.0f, factSize, Weight::semibold).size();
    int baseline = juce::roundToInt(headBaseline + 17.0f + static_cast<float>(lines) * factLead) + 4;
    if (why.isVisible())
    {
        why.placeAt(textLeft, baseline);
        baseline += 25;
    }
    again.placeAt(textLeft, baseline);
    used = baseline + 10;
}

void TakeNotes::paint(juce::Graphics& g)
{
    if (take == nullptr)
        return;
    const auto pen = ink(g);
    const bool doubtful = take->doubtful();
    const float x = doubtful ? pen.attendMark(textLeft, headBaseline) : textLeft;
    pen.text(x, headBaseline, head(), 14.0f, doubtful ? palette().attend : palette().ink, Weight::semibold);
    pen.paragraph(textLeft, headBaseline + 17.0f, facts(), width - 2.0f * textLeft - 8.0f, factSize, factLead,
                  palette().second, Weight::semibold);
}

}
