#include "Editor/CarePage.h"

#include "Editor/Figures.h"
#include "Editor/StopFirst.h"

#include <array>

namespace plumbline
{

namespace
{
constexpr int leftX = 64, rightX = 636, headBaseline = 58, introBaseline = 84, sectionsTop = 146,
              actTop = 562;
constexpr float measure = 500.0f, lead = 21.0f;

struct Section
{
    const char* head;
    const char* words;
};

constexpr std::array leftSections{
    Section{ "Ears",
             "Begin low and raise slowly: a sweep is a steady tone at its full level, louder than music of "
             "the same "
             "peak. While a take runs keep ears away from the monitors, and nobody stands near them. "
             "Harm grows with level and with time: wear protection where it is loud, keep takes few, take "
             "breaks." },
    Section{
        "Small drivers",
        "A long or loud sweep can burn a tweeter, or drive a small cone too far. Set the level first: it "
        "starts at −40 dBFS; raise it in small steps, never past what the maker allows. Stop, or Escape, "
        "silences it from every stage." },
    Section{
        "Mains",
        "Turn the monitors down and switch them off before they are moved or connected. Keep leads and "
        "stands out of the way where people walk, and liquids away. Open no cabinet, plug or supply: that "
        "is the work of licensed people." },
};

constexpr std::array rightSections{
    Section{
        "Heavy cabinets",
        "Two people lift, turn and carry. Lay a cabinet down slowly on a flat stand that is wide and strong "
        "enough, hands clear; secure it so that it cannot slide, roll or tip, and leave no lead under it or "
        "pulled tight. A stand is secure when a push does not rock it. Nobody sits or works beneath." },
    Section{
        "What comes first",
        "The maker’s instructions, the rules that hold where you are, for noise at work and for electricity, "
        "and the word of licensed people come before anything that is said here. This program cannot see "
        "your room." },
};

juce::String headline(bool wasRead)
{
    return wasRead ? "What to mind before anything sounds" : "One page before anything sounds";
}

const char* intro =
    "A measurement plays loud, steady tones through your monitors, and the work is to lift and "
    "turn them. This page is asked for once on this computer; Help brings it back.";

template <std::size_t Count>
void drawSections(const Ink& pen, const std::array<Section, Count>& sections, float x)
{
    float baseline = sectionsTop;
    for (const auto& section : sections)
    {
        pen.text(x, baseline, section.head, 16.0f, pen.colours().ink, Weight::semibold);
        baseline = pen.paragraph(x, baseline + 24.0f, said(section.words), measure, 15.0f, lead,
                                 pen.colours().second, Weight::medium);
        baseline += 15.0f;
    }
}
}

CarePage::CarePage(WindowContext& windowContext)
    : Part(windowContext), done(windowContext, ActButton::Kind::filled)
{
    setOpaque(true);
    setTitle("What to mind before anything sounds");
    juce::String all = intro;
    for (const auto& section : leftSections)
        all << " " << section.head << ". " << said(section.words);
    for (const auto& section : rightSections)
        all << " " << section.head << ". " << said(section.words);
    setDescription(all);
    done.onClick = [this]
    {
        if (!view().careWasRead)
            context.session.careWasRead();
        context.showCare(false);
    };
    addAndMakeVisible(done);
    viewChanged();
}

void CarePage::viewChanged()
{
    done.say(view().careWasRead ? "Close" : "I have read this");
    done.setKind(view().careWasRead ? ActButton::Kind::outlined : ActButton::Kind::filled);
    resized();
    repaint();
}

void CarePage::resized()
{
    done.placeAt({ leftX, actTop, juce::jmax(120, done.wantedWidth()), 44 });
}

bool CarePage::keyPressed(const juce::KeyPress& key)
{
    if (!key.isKeyCode(juce::KeyPress::escapeKey) || stopComesFirst(context.live))
        return false;
    context.showCare(false);
    return true;
}

void CarePage::paint(juce::Graphics& g)
{
    g.fillAll(palette().ground);
    const auto pen = ink(g);
    pen.text(leftX, headBaseline, headline(view().careWasRead), 24.0f, palette().ink, Weight::semibold);
    pen.paragraph(leftX, introBaseline, intro, static_cast<float>(rightX - leftX) + measure, 15.0f, lead,
                  palette().second, Weight::medium);
    pen.rule(112.0f, leftX, rightX + measure);
    drawSections(pen, leftSections, leftX);
    drawSections(pen, rightSections, rightX);
    pen.paragraph(static_cast<float>(done.getRight()) + 14.0f, actTop + 20.0f,
                  view().careWasRead
                      ? "Read on this computer before."
                      : "Nothing sounds before it. Escape closes the page; that does not count "
                        "as reading it.",
                  420.0f, 13.0f, 17.0f, palette().third, Weight::semibold);
}

}
