#include "Editor/CaptureWords.h"

#include "Editor/Figures.h"

namespace plumbline
{

namespace
{
constexpr int headlineBaseline = 46, middleTop = 58, middleBottom = 122, actTop = 128, actHeight = 40;
constexpr float beneathBaseline = 186.0f;

bool concernsCapture(const SessionMessage& message)
{
    return message.concern == SessionMessage::Concern::take ||
           message.concern == SessionMessage::Concern::sound;
}
}

CaptureWords::CaptureWords(WindowContext& windowContext)
    : Part(windowContext), next(windowContext, ActButton::Kind::filled),
      again(windowContext, ActButton::Kind::outlined), message(windowContext), remarks(windowContext)
{
    next.onClick = [this] { doAct(); };
    again.onClick = [this] { context.session.standAgain(); };
    again.say("Lift and re-stand");
    message.onLink = [this] { context.session.dismiss(messageCode); };
    for (auto* part : std::initializer_list<juce::Component*>{ &next, &again, &message, &remarks })
        addChildComponent(part);
    compose();
}

void CaptureWords::doAct()
{
    switch (now.kind)
    {
    case TakeAct::Kind::start:
        return context.session.startTake();
    case TakeAct::Kind::acknowledge:
        return context.session.acknowledge();
    case TakeAct::Kind::readCare:
        return context.showCare(true);
    case TakeAct::Kind::chooseStance:
    case TakeAct::Kind::none:
        break;
    }
}

void CaptureWords::remark(const juce::String& said)
{
    typedRemark = said;
    repaint();
}

void CaptureWords::viewChanged()
{
    compose();
    repaint();
}

void CaptureWords::liveChanged()
{
    const auto saying = captureSayingOf(view(), context.live);
    const auto act = takeActOf(view(), context.live);
    if (saying != words || act.kind != now.kind || act.whyOff != now.whyOff)
        viewChanged();
}

void CaptureWords::compose()
{
    const bool phraseChanged = captureSayingOf(view(), context.live).headline != words.headline;
    words = captureSayingOf(view(), context.live);
    now = takeActOf(view(), context.live);
    next.say(now.words, now.whyOff);
    next.setVisible(now.kind != TakeAct::Kind::none);
    const auto take = takeOfThisSetUp(view());
    again.setVisible(next.isVisible() && take != nullptr && now.kind == TakeAct::Kind::start);
    remarks.show(take != nullptr ? take->faults : std::vector<Fault>{});
    composeMessage();
    setTitle(words.headline);
    setDescription(words.line);
    if (phraseChanged && !words.fromTwoMetres && isShowing())
        juce::AccessibilityHandler::postAnnouncement(words.headline,
                                                     juce::AccessibilityHandler::AnnouncementPriority::low);
    layOut();
}

void CaptureWords::composeMessage()
{
    const SessionMessage* first = nullptr;
    int count = 0;
    for (const auto& each : view().messages)
        if (concernsCapture(each))
        {
            ++count;
            if (first == nullptr || (each.attend && !first->attend))
                first = &each;
        }
    message.setVisible(first != nullptr && !words.fromTwoMetres);
    if (first == nullptr)
        return;
    messageCode = first->problem.code;
    message.say(first->attend, whatOf(first->problem), remedyOf(first->problem),
                count > 1 ? "Put it away; " + juce::String(count - 1) + " more"
                          : juce::String("Put it away"));
}

void CaptureWords::layOut()
{
    const int height = message.heightAt(getWidth());
    const bool tall = height > middleBottom - middleTop;
    message.setBounds(0, tall ? juce::jmax(8, middleBottom - 6 - height) : middleTop, getWidth(), height + 6);
    remarks.setBounds(0, middleTop, getWidth(), middleBottom - middleTop);
    remarks.setVisible(!message.isVisible() && !words.fromTwoMetres && takeOfThisSetUp(view()) != nullptr &&
                       !takeOfThisSetUp(view())->faults.empty() && next.isVisible());
    const int width = juce::jmax(120, next.wantedWidth());
    next.placeAt({ 0, actTop, width, actHeight });
    again.placeAt({ width + 14, actTop, again.wantedWidth(), actHeight });
}

void CaptureWords::resized()
{
    layOut();
}

Caution CaptureWords::beneath() const
{
    if (typedRemark.isNotEmpty())
        return { true, typedRemark };
    if (now.whyOff.isNotEmpty())
        return { false, now.whyOff };
    return now.kind == TakeAct::Kind::start ? cautionOf(view()) : Caution{};
}

void CaptureWords::paintTaking(const Ink& pen)
{
    const auto measure = static_cast<float>(getWidth());
    pen.text(0.0f, 72.0f, words.headline, 60.0f, palette().ink, Weight::semibold);
    pen.text(0.0f, 104.0f, fitted(words.line, measure, 15.0f, Weight::medium), 15.0f, palette().ink,
             Weight::medium);
    pen.text(0.0f, 126.0f, words.more, 14.0f, palette().second, Weight::semibold);
}

void CaptureWords::paint(juce::Graphics& g)
{
    const auto pen = ink(g);
    const auto measure = static_cast<float>(getWidth());
    if (words.fromTwoMetres)
        return paintTaking(pen);
    if (!message.isVisible() || message.getY() >= middleTop)
        pen.text(0.0f, headlineBaseline, fitted(words.headline, measure, 24.0f, Weight::semibold), 24.0f,
                 palette().ink, Weight::semibold);
    if (!message.isVisible() && !remarks.isVisible())
        pen.paragraph(0.0f, middleTop + 19.0f, words.line, measure, 15.0f, 21.0f, palette().second,
                      Weight::medium);
    const auto caution = beneath();
    const float x = caution.attend ? pen.attendMark(0.0f, beneathBaseline, 9.0f) : 0.0f;
    if (caution.words.isNotEmpty())
        pen.paragraph(x, beneathBaseline, caution.words, measure - x, 13.0f, 16.0f,
                      caution.attend ? palette().attend : palette().second, Weight::semibold);
}

}
