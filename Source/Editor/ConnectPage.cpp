#include "Editor/ConnectPage.h"

namespace plumbline
{

namespace
{
constexpr int actTop = 130, actHeight = 44, lowerLeft = 604, lowerRight = 1176;
constexpr int fullHeight = 700; ///< without the strip
constexpr float measure = place::wordsRight - place::wordsLeft;

const char* silence = "Plumbline makes no sound until you say so. The mix passes unchanged.";
}

ConnectPage::ConnectPage(WindowContext& windowContext)
    : Part(windowContext), next(windowContext, ActButton::Kind::filled), list(windowContext),
      drawing(windowContext), plan(windowContext), connection(windowContext)
{
    setTitle("Connect");
    setInterceptsMouseClicks(false, true); // the board lies beneath
    next.onClick = [this] { doAct(); };
    list.whereSwitch().onChosen = [this](int word)
    {
        told.where = true;
        context.session.usePracticeRoom(word == 0);
        compose();
    };
    list.pairs().onRemark = [this](const juce::String& remark)
    {
        typedRemark = remark;
        repaint();
    };
    list.pairs().onShown = [this]
    {
        drawing.show(list.pairs().shown(), list.pairs().shownRow());
        list.resized();
        list.repaint();
    };
    for (auto* part : std::initializer_list<juce::Component*>{ &next, &list, &drawing, &plan, &connection })
        addAndMakeVisible(part);
    viewChanged();
}

void ConnectPage::doAct()
{
    switch (steps().next())
    {
    case FirstSteps::where:
        return list.whereSwitch().choose(0);
    case FirstSteps::pairs:
        if (view().trial.trial->monitors.empty())
            return list.pairs().beginNaming(true);
        told.pairsAreEnough = true;
        typedRemark.clear();
        return compose();
    case FirstSteps::care:
        return context.showCare(true);
    case FirstSteps::firstTake:
    case FirstSteps::all:
        return context.goTo(Stage::capture);
    }
}

void ConnectPage::compose()
{
    words = connectSayingOf(steps(), view(), context.live);
    next.say(words.act);
    list.show(steps());
    const bool microphone = steps().whereTold && !view().practiceRoom;
    plan.setVisible(!microphone);
    connection.setVisible(microphone);
    setDescription(words.headline + " " + words.line);
    resized();
    repaint();
}

void ConnectPage::viewChanged()
{
    list.viewChanged();
    connection.viewChanged();
    drawing.show(list.pairs().shown(), list.pairs().shownRow());
    compose();
}

void ConnectPage::liveChanged()
{
    if (connection.isVisible())
        connection.liveChanged();
    const auto now = connectSayingOf(steps(), view(), context.live);
    if (now.headline != words.headline || now.line != words.line)
        compose();
}

void ConnectPage::resized()
{
    constexpr int header = place::headerHeight;
    next.placeAt({ place::wordsLeft, actTop, juce::jmax(168, next.wantedWidth()), actHeight });
    list.setBounds(FirstRunSteps::left, FirstRunSteps::top - header, FirstRunSteps::width,
                   juce::jmax(0, getHeight() - (FirstRunSteps::top - header)));
    drawing.setBounds(PairDrawing::placeInWindow().translated(0, -header));
    const bool full = getHeight() >= fullHeight;
    const int lowerTop = full ? 580 - header : 568 - header;
    const int lowerHeight = full ? 128 : getHeight() - lowerTop - 6;
    plan.setBounds(lowerLeft, lowerTop, PracticePlan::width, lowerHeight);
    connection.setBounds(lowerLeft, lowerTop, ConnectionNow::width, lowerHeight);
}

void ConnectPage::paint(juce::Graphics& g)
{
    const auto pen = ink(g);
    pen.text(place::wordsLeft, 46.0f, words.headline, 24.0f, palette().ink, Weight::semibold);
    pen.paragraph(place::wordsLeft, 77.0f, words.line, measure, 15.0f, 21.0f, palette().second,
                  Weight::medium);
    const auto asideX = static_cast<float>(next.getRight() - ActButton::ringRoom + 18);
    const bool remarked = typedRemark.isNotEmpty();
    const float x = remarked ? pen.attendMark(asideX, 148.0f) : asideX;
    pen.paragraph(x, 148.0f, remarked ? typedRemark : words.aside, place::wordsRight - x, 14.0f, 19.0f,
                  remarked ? palette().attend : palette().second, Weight::semibold);
    const bool full = getHeight() >= fullHeight;
    const float rule = (full ? 556.0f : 552.0f) - place::headerHeight;
    pen.line(lowerLeft, rule, lowerRight, rule, palette().grid);
    if (full)
    {
        pen.line(lowerLeft, 662.0f, lowerRight, 662.0f, palette().grid);
        pen.text(lowerLeft, 682.0f, silence, 13.0f, palette().second, Weight::semibold);
    }
}

}
