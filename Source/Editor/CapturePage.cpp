#include "Editor/CapturePage.h"

namespace plumbline
{

namespace
{
constexpr int summaryTop = 338, microphoneLine = 565, loopbackLine = 619, captionDrop = 3, namesClear = 12;
constexpr float captionMeasure = 1112.0f;

const FigureRange lengthFigure{ 1.0, 30.0, 1.0, 1, "s" };
const FigureRange levelFigure{ -80.0, -6.0, 1.0, 1, "dBFS" };

juce::Rectangle<int> onPage(juce::Rectangle<int> inWindow)
{
    return inWindow.translated(0, -place::headerHeight);
}

juce::String band(const TakePlan& plan)
{
    const auto one = [](double hz)
    {
        return hz < 1000.0 ? figureWords(hz, { 0, 1e6, 1, 0, "Hz" })
                           : figureWords(hz / 1000.0, { 0, 1e3, 1, 1, "kHz" });
    };
    return one(plan.fromHz) + plumbline::said("–") + one(plan.toHz);
}
}

CapturePage::CapturePage(WindowContext& windowContext)
    : Part(windowContext), said(windowContext), time(windowContext), caption(windowContext),
      chart(windowContext), summary(windowContext), microphone(windowContext, "Microphone"),
      loopback(windowContext, "Loopback")
{
    setTitle("Capture");
    setInterceptsMouseClicks(false, true); // the board lies beneath
    buildCaption();
    for (auto* part : std::initializer_list<juce::Component*>{ &said, &time, &chart, &caption, &summary,
                                                               &microphone, &loopback })
        addAndMakeVisible(part);
    viewChanged();
}

void CapturePage::buildCaption()
{
    caption.addFigure("length", "Length of each sweep", lengthFigure).onChanged =
        [this](std::optional<double> v)
    { changePlan([v](TakePlan& plan) { plan.sweepSeconds = v.value_or(plan.sweepSeconds); }); };
    caption.addFigure("level", "Level of the sweep's peak", levelFigure).onChanged =
        [this](std::optional<double> v)
    { changePlan([v](TakePlan& plan) { plan.levelDbfs = v.value_or(plan.levelDbfs); }); };
    caption.addMenu("source", "Where the take comes from", {}).onChosen = [this](int row)
    { context.session.usePracticeRoom(row == 1); };
    caption.addMenu("host", "The host may start it", {}).onChosen = [this](int row)
    { context.session.letHostStart(row == 1); };
    static_cast<MenuWord*>(caption.word("source"))
        ->setOptions({ "the microphone on the Return", "the practice room: nothing sounds" },
                     { "the microphone", "the practice room" });
    static_cast<MenuWord*>(caption.word("host"))
        ->setOptions({ "no, this window alone", "yes, by its parameter" }, { "no", "yes" });
    caption.onRemark = [this](const juce::String& remark) { said.remark(remark); };
}

void CapturePage::changePlan(const std::function<void(TakePlan&)>& how)
{
    auto plan = view().plan;
    how(plan);
    if (plan != view().plan)
        context.session.setPlan(plan);
}

void CapturePage::fillCaption()
{
    static_cast<FigureWord*>(caption.word("length"))->setValue(view().plan.sweepSeconds);
    static_cast<FigureWord*>(caption.word("level"))->setValue(view().plan.levelDbfs);
    static_cast<MenuWord*>(caption.word("source"))->setChosen(view().practiceRoom ? 1 : 0);
    static_cast<MenuWord*>(caption.word("host"))->setChosen(view().hostMayStart ? 1 : 0);
    const auto take = takeOfThisSetUp(view());
    const auto smoothing = take != nullptr ? juce::String(take->smoothing) : juce::String();
    caption.setSentence("Level at the seat, " + juce::String(view().times.pair ? "left, then right, " : "") +
                        "sweep " + band(view().plan) + " in [length] at [level]; " +
                        (smoothing.isNotEmpty() ? smoothing + "; " : juce::String()) +
                        "from [source]; the host may start it: [host]");
}

void CapturePage::showCurves()
{
    const auto& trial = view().trial;
    const auto& stanceName = view().takeUnderWay.empty() ? trial.hereNow : view().takeUnderWay;
    const auto found = trial.curves.find(stanceName);
    const auto curves = found != trial.curves.end() ? found->second : StanceCurves{};
    if (stanceName == shownStance && curves.newest == shownNewest && curves.before == shownBefore)
        return;
    shownStance = stanceName;
    shownNewest = curves.newest;
    shownBefore = curves.before;
    const auto stance = parseStance(stanceName);
    if (!stance || curves.newest == nullptr)
        return chart.show();
    std::size_t row = 0;
    while (row < trial.trial->monitors.size() && trial.trial->monitors[row].name != stance->monitor)
        ++row;
    chart.show(curves, row, lieOf(juce::String(stance->orientation)));
}

void CapturePage::viewChanged()
{
    fillCaption();
    said.viewChanged();
    time.viewChanged();
    summary.viewChanged();
    showCurves();
    resized();
}

void CapturePage::liveChanged()
{
    said.liveChanged();
    time.liveChanged();
    summary.liveChanged();
    microphone.feed(context.live.microphonePeakDbfs);
    loopback.feed(context.live.loopbackPeakDbfs);
}

void CapturePage::resized()
{
    said.setBounds(place::wordsLeft, 0, place::wordsRight - place::wordsLeft,
                   place::wordsBottom - place::headerHeight);
    time.setBounds(onPage(TimeLine::placeInWindow()));
    caption.placeAt(place::plotLeft, place::captionBaseline + captionDrop - place::headerHeight,
                    captionMeasure);
    chart.setBounds(onPage(ResponseChart::placeInWindow()));
    const int namesTop = summaryTop + summary.usedHeight() + namesClear;
    summary.setBounds(onPage({ place::besidePlot - TakeNotes::textLeft, summaryTop, TakeNotes::width,
                               juce::jmax(1, summary.usedHeight()) }));
    chart.keepNamesBetween(static_cast<float>(namesTop - ResponseChart::top),
                           static_cast<float>(microphoneLine - Meter::lineFromTop - 8 - ResponseChart::top));
    microphone.setBounds(onPage(Meter::placedAtLine(microphoneLine)));
    loopback.setBounds(onPage(Meter::placedAtLine(loopbackLine)));
}

}
