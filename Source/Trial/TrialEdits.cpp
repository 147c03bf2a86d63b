#include "Trial/TrialEdits.h"

#include <algorithm>
#include <cmath>

namespace plumbline
{

namespace
{

std::optional<Problem> faultOf(const Monitor& monitor)
{
    if (monitor.name.find_first_not_of(" \t") == std::string::npos)
        return Problem{ "no-name", "A pair needs a name", "", "Type one, such as \"Heron 6\"" };
    if (monitor.name.find(',') != std::string::npos)
        return Problem{ "comma-in-name", "A name may not hold a comma, which parts pair and orientation",
                        monitor.name, "Leave it out" };
    const std::pair<const char*, std::optional<double>> sizes[] = {
        { "width", monitor.widthCm },         { "height", monitor.heightCm },
        { "depth", monitor.depthCm },         { "driver spacing", monitor.driverSpacingCm },
        { "crossover", monitor.crossoverHz }, { "woofer", monitor.wooferCm }
    };
    for (const auto& [name, size] : sizes)
        if (size && !(std::isfinite(*size) && *size > 0.0))
            return Problem{ "size", std::string("Not a size: the ") + name + " must be above 0", monitor.name,
                            "Leave out what you do not know" };
    return std::nullopt;
}

/** As a stance's name is read: without blanks at its ends. */
std::string withoutBlanks(const std::string& name)
{
    const auto first = name.find_first_not_of(" \t");
    return name.substr(first, name.find_last_not_of(" \t") - first + 1);
}

void rename(Trial& trial, const std::string& formerName, const std::string& name)
{
    renameStances(trial,
                  [&](const Stance& stance) {
                      return stance.monitor == formerName ? Stance{ name, stance.orientation } : stance;
                  });
}

bool hasTakes(const Trial& trial, const std::string& monitor)
{
    return std::any_of(trial.stances.begin(), trial.stances.end(),
                       [&](const Stance& stance) { return stance.monitor == monitor; });
}

}

Result<Trial> withMonitor(Trial trial, const std::string& formerName, const Monitor& described)
{
    if (auto fault = faultOf(described))
        return *fault;
    Monitor monitor = described;
    monitor.name = withoutBlanks(described.name);
    auto named = [&](const std::string& name)
    {
        return std::find_if(trial.monitors.begin(), trial.monitors.end(),
                            [&](const Monitor& m) { return m.name == name; });
    };
    if (monitor.name != formerName && named(monitor.name) != trial.monitors.end())
        return Problem{ "name-taken", "There is a pair of this name already", monitor.name,
                        "Give each its own name" };
    const auto former = named(formerName);
    if (formerName.empty() || former == trial.monitors.end())
    {
        trial.monitors.push_back(monitor);
        return trial;
    }
    if (former->kind != monitor.kind && hasTakes(trial, formerName))
        return Problem{ "other-kind", "There are takes of it, as it was described", formerName,
                        "Add it under another name" };
    *former = monitor;
    if (monitor.name != formerName)
        rename(trial, formerName, monitor.name);
    return trial;
}

void renameStances(Trial& trial, const std::function<Stance(const Stance&)>& renamed)
{
    auto rename = [&](std::string& name)
    {
        if (const auto stance = parseStance(name))
            name = renamed(*stance).name();
    };
    for (auto& stance : trial.stances)
        stance = renamed(stance);
    for (auto& setUp : trial.setUps)
        rename(setUp.stance);
    std::map<std::string, StancePlacement> placements;
    for (const auto& [former, placement] : trial.placements)
    {
        auto name = former;
        rename(name);
        placements[name] = placement;
    }
    trial.placements = std::move(placements);
    if (trial.choice)
        rename(trial.choice->stance);
}

int nextSetUp(const Trial& trial, const std::string& stance)
{
    int highest = 0;
    for (const auto& setUp : trial.setUps)
        if (setUp.stance == stance)
            highest = std::max(highest, setUp.number);
    return highest + 1;
}

int standingSetUp(const Trial& trial, const std::string& stance)
{
    if (!trial.takes.empty())
        if (const auto* setUp = trial.setUp(trial.takes.back().setUp); setUp && setUp->stance == stance)
            return setUp->number;
    return nextSetUp(trial, stance);
}

}
