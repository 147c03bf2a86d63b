#include "Editor/FaultList.h"

#include <algorithm>

namespace plumbline
{

namespace
{
constexpr float wordSize = 14.0f, markWidth = 12.0f, firstBaseline = 14.0f;

/** All that is to be known about a take. */
class FaultPanel final : public Popover
{
public:
    FaultPanel(WindowContext& windowContext, const std::vector<Fault>& all)
        : Popover(windowContext), faults(all)
    {
        juce::String title;
        for (const auto& fault : faults)
            title += juce::String(fault.words) + " ";
        setTitle(title.trim());
    }

    static constexpr int width = 460;

    int wantedHeight() const
    {
        int lines = 0;
        for (const auto& fault : faults)
            lines += FaultList::linesOf(fault, width - 2 * margin);
        return juce::roundToInt(static_cast<float>(lines) * FaultList::lead) + 2 * margin +
               6 * static_cast<int>(faults.size() - 1);
    }

    void paint(juce::Graphics& g) override
    {
        Popover::paint(g);
        float baseline = margin + firstBaseline;
        for (const auto& fault : faults)
            baseline = FaultList::draw(ink(g), fault, margin, baseline, width - 2 * margin) + 6.0f;
    }

private:
    static constexpr int margin = 14;
    const std::vector<Fault> faults;
};
}

FaultList::FaultList(WindowContext& windowContext) : Part(windowContext), all(windowContext, {}, wordSize)
{
    all.onClick = [this] { openAll(); };
    addChildComponent(all);
}

FaultList::~FaultList() = default;

void FaultList::show(std::vector<Fault> toShow)
{
    std::stable_partition(toShow.begin(), toShow.end(),
                          [](const Fault& fault) { return fault.severity == Fault::Severity::doubt; });
    if (toShow == faults)
        return;
    faults = std::move(toShow);
    juce::String title;
    for (const auto& fault : faults)
        title += juce::String(fault.words) + " ";
    setTitle(title.trim());
    resized();
    repaint();
}

int FaultList::linesOf(const Fault& fault, float measure)
{
    return brokenIntoLines(juce::String(fault.words), measure - markWidth, wordSize, Weight::semibold).size();
}

float FaultList::draw(const Ink& ink, const Fault& fault, float x, float baseline, float measure)
{
    const bool doubt = fault.severity == Fault::Severity::doubt;
    if (doubt)
        ink.attendMark(x, baseline);
    return ink.paragraph(x + markWidth, baseline, juce::String(fault.words), measure - markWidth, wordSize,
                         lead, doubt ? ink.colours().ink : ink.colours().second, Weight::semibold);
}

std::size_t FaultList::shownHere() const
{
    const auto measure = static_cast<float>(getWidth());
    const auto room = static_cast<int>(static_cast<float>(getHeight()) / lead);
    int lines = 0;
    for (const auto& fault : faults)
        lines += linesOf(fault, measure);
    if (lines <= room)
        return faults.size();
    std::size_t count = 0;
    lines = 1; // the link's
    while (count < faults.size() && lines + linesOf(faults[count], measure) <= room)
        lines += linesOf(faults[count++], measure);
    return count;
}

void FaultList::resized()
{
    const auto here = shownHere();
    all.setVisible(here < faults.size());
    all.say(here == 0 ? "Read what is doubtful" : "All " + juce::String(faults.size()) + " remarks");
    int lines = 0;
    for (std::size_t i = 0; i < here; ++i)
        lines += linesOf(faults[i], static_cast<float>(getWidth()));
    all.placeAt(static_cast<int>(markWidth),
                juce::roundToInt(firstBaseline + static_cast<float>(lines) * lead));
}

void FaultList::paint(juce::Graphics& g)
{
    float baseline = firstBaseline;
    for (std::size_t i = 0; i < shownHere(); ++i)
        baseline = draw(ink(g), faults[i], 0.0f, baseline, static_cast<float>(getWidth()));
}

void FaultList::openAll()
{
    opened = openFaults(context, faults, all, [this] { opened.reset(); });
}

std::unique_ptr<Popover> openFaults(WindowContext& context, const std::vector<Fault>& faults,
                                    juce::Component& anchor, std::function<void()> closed)
{
    auto panel = std::make_unique<FaultPanel>(context, faults);
    panel->onClose = std::move(closed);
    panel->openBeside(anchor, anchor.getLocalBounds(), FaultPanel::width, panel->wantedHeight());
    return panel;
}

}
