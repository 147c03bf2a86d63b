#include "Editor/BoardModel.h"

#include "Editor/Figures.h"

#include <algorithm>

namespace plumbline
{

namespace
{

constexpr int takesOfSetUp = 2, setUpsOfFirstStance = 2;

const FigureRange centimetres{ 0.0, 1e4, 1.0, 0, "cm" };
const FigureRange kilohertz{ 0.0, 1e3, 0.1, 1, "kHz" };

std::vector<std::string> orientationsOf(const Trial& trial)
{
    return trial.orientations.empty() ? usualOrientations() : trial.orientations;
}

/** The takes of a set-up in their order. A doubtful one stands there only until it was taken again. */
TallyGroup groupOf(const Trial& trial, const SetUp* setUp, int wanted)
{
    TallyGroup group;
    int kept = 0;
    for (const auto& take : trial.takes)
        kept += setUp != nullptr && take.setUp == setUp->id && take.keep;
    int doubtful = 0;
    for (const auto& take : trial.takes)
        doubtful += setUp != nullptr && take.setUp == setUp->id && !take.keep && !take.reason.empty();
    int settled = std::max(0, doubtful - std::max(0, wanted - kept)); // the oldest doubts
    for (const auto& take : trial.takes)
    {
        if (setUp == nullptr || take.setUp != setUp->id)
            continue;
        if (take.keep)
            group.strokes.push_back(TakeStroke::kept);
        else if (!take.reason.empty() && settled-- <= 0)
            group.strokes.push_back(TakeStroke::doubtful);
    }
    while (static_cast<int>(group.strokes.size()) < wanted)
        group.strokes.push_back(TakeStroke::wanted);
    return group;
}

std::vector<const SetUp*> setUpsOf(const Trial& trial, const std::string& stance)
{
    std::vector<const SetUp*> found;
    for (const auto& setUp : trial.setUps)
        if (setUp.stance == stance)
            found.push_back(&setUp);
    std::sort(found.begin(), found.end(), [](auto* a, auto* b) { return a->number < b->number; });
    return found;
}

/** The number of the take that runs, among those of its set-up. */
int numberUnderWay(const TrialView& view, const std::string& stance)
{
    const auto* setUp = view.trial->setUpOf(stance, view.hereSetUp);
    const auto& takes = view.trial->takes;
    return 1 + static_cast<int>(std::count_if(takes.begin(), takes.end(),
                                              [&](const TakeEntry& take)
                                              { return setUp != nullptr && take.setUp == setUp->id; }));
}

void say(BoardCellState& cell, const SessionView& view)
{
    if (view.takeUnderWay == cell.stance)
        cell.word = "take " + juce::String(numberUnderWay(view.trial, cell.stance));
    else if (!cell.asked)
        cell.word = "not asked";
    else if (cell.count(TakeStroke::doubtful) > 0)
        cell.word = "doubtful";
    else if (!cell.begun())
        cell.word = "wanted";
    else if (cell.count(TakeStroke::wanted) > 0)
        cell.word = "open";
    cell.attend = cell.word == "doubtful";
    if (cell.hereNow)
        cell.foot = "here now";
}

BoardCellState cellOf(const SessionView& view, const Stance& stance)
{
    const auto& trial = *view.trial.trial;
    BoardCellState cell;
    cell.stance = stance.name();
    cell.orientation = juce::String(stance.orientation);
    cell.hereNow = cell.selected = view.trial.hereNow == cell.stance;
    const auto& drawn = view.takeUnderWay.empty() ? view.trial.hereNow : view.takeUnderWay;
    const auto curves = view.trial.curves.find(cell.stance);
    cell.onChart =
        drawn == cell.stance && curves != view.trial.curves.end() && curves->second.newest != nullptr;

    auto setUps = setUpsOf(trial, cell.stance);
    if (cell.hereNow && trial.setUpOf(cell.stance, view.trial.hereSetUp) == nullptr)
        setUps.push_back(nullptr); // it stands there, and nothing was taken of it yet
    cell.stoodUp = static_cast<int>(setUps.size());
    const auto wanted = wantedTakes(trial, stance);
    setUps.resize(std::max(setUps.size(), static_cast<std::size_t>(wanted.setUps)), nullptr);
    cell.asked = !setUps.empty();
    for (const auto* setUp : setUps)
        cell.groups.push_back(groupOf(trial, setUp, wanted.takesEach));
    say(cell, view);
    return cell;
}

juce::String counted(int count, const char* one, const char* many)
{
    return juce::String(count) + " " + (count == 1 ? one : many);
}

}

WantedTakes wantedTakes(const Trial& trial, const Stance& stance)
{
    const auto usual = usualOrientations();
    if (std::find(usual.begin(), usual.end(), stance.orientation) == usual.end())
        return { 0, takesOfSetUp };
    return { stance.orientation == orientationsOf(trial).front() ? setUpsOfFirstStance : 1, takesOfSetUp };
}

int BoardCellState::count(TakeStroke kind) const
{
    int sum = 0;
    for (const auto& group : groups)
        sum += group.count(kind);
    return sum;
}

bool BoardCellState::begun() const
{
    return std::any_of(groups.begin(), groups.end(), [](const TallyGroup& group) { return group.begun(); });
}

bool BoardCellState::enough() const
{
    return begun() && groups.front().count(TakeStroke::wanted) == 0;
}

juce::String BoardCellState::title() const
{
    if (stance.empty())
        return {};
    auto words = juce::String(stance) + ".";
    if (!asked)
        return words + " Not asked.";
    const int kept = count(TakeStroke::kept), doubtful = count(TakeStroke::doubtful);
    const int all = kept + doubtful + count(TakeStroke::wanted);
    words << " " << (stoodUp == 0 ? juce::String("No set-up yet") : counted(stoodUp, "set-up", "set-ups"))
          << ", " << kept << " of " << counted(all, "take", "takes") << ".";
    if (doubtful > 0)
        words << " " << doubtful << " doubtful.";
    if (word.startsWith("take "))
        words << " T" << word.substring(1) << " is under way.";
    return hereNow ? words + " Here now." : words;
}

BoardState boardFrom(const SessionView& view)
{
    const auto& trial = *view.trial.trial;
    const auto orientations = orientationsOf(trial);
    BoardState board;
    for (const auto& orientation : orientations)
    {
        const juce::String name(orientation);
        board.columns.push_back(name.substring(0, 1).toUpperCase() + name.substring(1));
    }
    for (const auto& monitor : trial.monitors)
    {
        auto& row = board.rows.emplace_back(BoardRowState{ monitor, knownOf(monitor), {} });
        for (const auto& orientation : orientations)
            row.cells.push_back(cellOf(view, { monitor.name, orientation }));
    }
    board.canName = board.rows.size() < mostRows;
    return board;
}

juce::String knownOf(const Monitor& monitor)
{
    const auto cm = [](double value) { return figureWords(value, centimetres); };
    const bool twoWay = monitor.crossoverHz && monitor.driverSpacingCm;
    if (monitor.wooferCm && twoWay)
        return cm(*monitor.wooferCm) + ", two-way";
    if (monitor.wooferCm)
        return cm(*monitor.wooferCm) + " woofer";
    if (twoWay)
        return "two-way, " + figureWords(*monitor.crossoverHz / 1000.0, kilohertz);
    if (monitor.heightCm)
        return cm(*monitor.heightCm) + " high";
    return monitor.widthCm ? cm(*monitor.widthCm) + " wide" : juce::String();
}

}
