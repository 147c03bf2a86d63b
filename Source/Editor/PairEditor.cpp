#include "Editor/PairEditor.h"

#include "Editor/FirstSteps.h"

namespace plumbline
{

namespace
{
constexpr int headBaseline = 24, textLeft = 8, sentenceDrop = 23, sentenceLead = 19;
constexpr double perKilo = 1000.0;

const FigureRange heightFigure{ 5.0, 250.0, 0.5, 1, "cm" };
const FigureRange widthFigure{ 5.0, 150.0, 0.5, 1, "cm" };
const FigureRange spacingFigure{ 2.0, 150.0, 0.1, 1, "cm" };
const FigureRange crossoverFigure{ 0.1, 10.0, 0.1, 2, "kHz" };
}

PairEditor::PairEditor(WindowContext& windowContext)
    : Part(windowContext), head(windowContext), sentence(windowContext, 14.0f, sentenceLead),
      rename(windowContext, "Rename", 13.0f), add(windowContext, "Add a pair", 13.0f),
      name(windowContext, "Name of the pair")
{
    auto& which = head.addMenu("monitor", "The pair that is described", {});
    which.onChosen = [this](int row)
    { show(juce::String(view().trial.trial->monitors[static_cast<std::size_t>(row)].name)); };
    sentence.addMenu("kind", "One or two", { "Two monitors", "One monitor" }).onChosen = [this](int row)
    {
        if (auto changed = shown() != nullptr ? std::optional(*shown()) : std::nullopt)
        {
            changed->kind = row == 0 ? Monitor::Kind::pair : Monitor::Kind::single;
            describe(*changed);
        }
    };
    addSize("height", "Height", heightFigure, 30.0, &Monitor::heightCm, 1.0);
    addSize("width", "Width", widthFigure, 20.0, &Monitor::widthCm, 1.0);
    addSize("depth", "Depth", widthFigure, 25.0, &Monitor::depthCm, 1.0);
    addSize("spacing", "Distance of the drivers", spacingFigure, 15.0, &Monitor::driverSpacingCm, 1.0);
    addSize("crossover", "Crossover", crossoverFigure, 2.5, &Monitor::crossoverHz, perKilo);
    sentence.setSentence(
        "[kind], [height] high, [width] wide, [depth] deep, drivers [spacing] apart, crossover near "
        "[crossover].");
    sentence.onRemark = [this](const juce::String& remark)
    {
        if (onRemark != nullptr)
            onRemark(remark);
    };
    rename.onClick = [this] { beginNaming(false); };
    add.onClick = [this] { beginNaming(true); };
    name.onDone = [this](const juce::String& words) { named(words); };
    name.onAbandoned = [this] { viewChanged(); };
    for (auto* part : std::initializer_list<juce::Component*>{ &head, &rename, &add, &sentence })
        addAndMakeVisible(part);
    addChildComponent(name);
    setInterceptsMouseClicks(false, true);
    viewChanged();
}

void PairEditor::addSize(const juce::String& id, const juce::String& title, const FigureRange& range,
                         double first, Size size, double factor)
{
    auto& figure = sentence.addFigure(id, title, range);
    figure.setUnknown("? " + range.unit, first);
    figure.onChanged = [this, size, factor](std::optional<double> value)
    {
        if (shown() == nullptr)
            return;
        auto changed = *shown();
        changed.*size = value ? std::optional(*value * factor) : std::nullopt;
        describe(changed);
    };
}

void PairEditor::describe(const Monitor& changed)
{
    context.session.describeMonitor(changed.name, changed);
}

const Monitor* PairEditor::shown() const
{
    for (const auto& monitor : view().trial.trial->monitors)
        if (juce::String(monitor.name) == selected)
            return &monitor;
    return nullptr;
}

std::size_t PairEditor::shownRow() const
{
    const auto* monitor = shown();
    return monitor != nullptr ? static_cast<std::size_t>(monitor - view().trial.trial->monitors.data()) : 0;
}

void PairEditor::show(const juce::String& monitorName)
{
    selected = monitorName;
    viewChanged();
}

void PairEditor::beginNaming(bool another)
{
    naming = another || shown() == nullptr;
    if (onRemark != nullptr)
        onRemark({});
    name.begin(naming ? juce::String() : selected, naming ? "Name a pair" : "Its name");
    viewChanged();
}

void PairEditor::named(const juce::String& words)
{
    const auto wanted = words.trim();
    const auto former = naming ? juce::String() : selected;
    if (wanted.isNotEmpty() && wanted != former)
    {
        const auto refusal = monitorNameRefusal(wanted, former, *view().trial.trial);
        if (onRemark != nullptr)
            onRemark(refusal);
        if (refusal.isEmpty())
        {
            Monitor monitor;
            if (!naming && shown() != nullptr)
                monitor = *shown();
            monitor.name = wanted.toStdString();
            selected = wanted;
            context.session.describeMonitor(former.toStdString(), monitor);
        }
    }
    viewChanged();
}

void PairEditor::viewChanged()
{
    const auto& monitors = view().trial.trial->monitors;
    if (monitors.size() > knownMonitors && knownMonitors > 0)
        selected = juce::String(monitors.back().name);
    knownMonitors = monitors.size();
    if (shown() == nullptr && !monitors.empty())
        if (const auto fallback = juce::String(monitors.front().name); !name.isTyping())
            selected = fallback;
    const auto* monitor = shown();
    if (monitor != nullptr)
        fillIn(*monitor);
    const bool typing = name.isTyping();
    head.setVisible(monitor != nullptr && !typing);
    sentence.setVisible(monitor != nullptr);
    rename.setVisible(monitor != nullptr && !typing);
    add.setVisible(!typing);
    add.say(monitors.empty() ? "Name a pair" : "Add a pair");
    resized();
    repaint();
    if (onShown != nullptr)
        onShown();
}

void PairEditor::fillIn(const Monitor& monitor)
{
    juce::StringArray names, shortened;
    for (const auto& each : view().trial.trial->monitors)
    {
        names.add(juce::String(each.name));
        shortened.add(fitted(juce::String(each.name), 220.0f, 15.0f, Weight::medium));
    }
    auto& which = static_cast<MenuWord&>(*head.word("monitor"));
    which.setOptions(names, shortened);
    which.setChosen(static_cast<int>(shownRow()));
    head.setSentence("[monitor]");
    static_cast<MenuWord&>(*sentence.word("kind")).setChosen(monitor.kind == Monitor::Kind::pair ? 0 : 1);
    const auto set = [this](const char* id, std::optional<double> value)
    { static_cast<FigureWord&>(*sentence.word(id)).setValue(value); };
    set("height", monitor.heightCm);
    set("width", monitor.widthCm);
    set("depth", monitor.depthCm);
    set("spacing", monitor.driverSpacingCm);
    set("crossover", monitor.crossoverHz ? std::optional(*monitor.crossoverHz / perKilo) : std::nullopt);
}

int PairEditor::wantedHeight() const
{
    return headBaseline + (sentence.isVisible() ? sentenceDrop + sentenceLead * (sentence.lines() - 1) : 0) +
           12;
}

void PairEditor::resized()
{
    const int right = getWidth() - textLeft;
    head.placeAt(textLeft, headBaseline, 240.0f);
    name.setBounds(0, headBaseline - 21, 260, 30);
    if (add.isVisible() && view().trial.trial->monitors.empty())
        add.placeAt(textLeft, headBaseline);
    else
        add.placeEndAt(right, headBaseline);
    rename.placeEndAt(add.getX() - 6, headBaseline);
    sentence.placeAt(textLeft, headBaseline + sentenceDrop, static_cast<float>(right - textLeft));
}

}
