#include "Trial/Trial.h"

#include <algorithm>

namespace plumbline
{

namespace
{
template <class Items, class Predicate>
auto* findIn(Items& items, Predicate matches)
{
    const auto found = std::find_if(items.begin(), items.end(), matches);
    return found == items.end() ? nullptr : &*found;
}

std::string trimmed(const std::string& text)
{
    const auto first = text.find_first_not_of(" \t");
    const auto last = text.find_last_not_of(" \t");
    return first == std::string::npos ? std::string() : text.substr(first, last - first + 1);
}

void addStance(Trial& trial, const TakeFiling& filing)
{
    const auto& wanted = filing.stance;
    if (!findIn(trial.monitors, [&](const Monitor& m) { return m.name == wanted.monitor; }))
    {
        Monitor monitor;
        monitor.name = wanted.monitor;
        monitor.kind = filing.kind;
        trial.monitors.push_back(std::move(monitor));
    }
    if (std::find(trial.orientations.begin(), trial.orientations.end(), wanted.orientation) ==
        trial.orientations.end())
        trial.orientations.push_back(wanted.orientation);
    if (trial.stance(wanted.name()) == nullptr)
        trial.stances.push_back(wanted);
    if (!findIn(trial.positions, [&](const Position& p) { return p.name == filing.position; }))
    {
        const bool seat = filing.position == "seat"; // the place from which the others are measured
        trial.positions.push_back(
            { filing.position, seat ? std::optional(std::array<double, 3>{}) : std::nullopt });
    }
}

/** Id of the set-up, made if it is the next one. */
Result<int> setUpFor(Trial& trial, const TakeFiling& filing)
{
    const auto stance = filing.stance.name();
    if (const auto* known = trial.setUpOf(stance, filing.setUpOrdinal))
        return known->id;
    if (filing.setUpOrdinal < 1)
        return Problem{ "set-up-number",
                        "Set-up " + std::to_string(filing.setUpOrdinal) + " is not a number from 1", "",
                        "Number the set-ups of a stance 1, 2, 3 in the order in which it was stood up" };
    int id = 1;
    for (const auto& setUp : trial.setUps)
        id = std::max(id, setUp.id + 1);
    trial.setUps.push_back({ id, stance, filing.when, filing.setUpOrdinal });
    return id;
}
}

const Stance* Trial::stance(const std::string& wanted) const
{
    return findIn(stances, [&](const Stance& s) { return s.name() == wanted; });
}

const SetUp* Trial::setUp(int wanted) const
{
    return findIn(setUps, [&](const SetUp& s) { return s.id == wanted; });
}

const SetUp* Trial::setUpOf(const std::string& stanceName, int number) const
{
    return findIn(setUps, [&](const SetUp& s) { return s.stance == stanceName && s.number == number; });
}

const TakeEntry* Trial::take(const std::string& wanted) const
{
    return findIn(takes, [&](const TakeEntry& t) { return t.id == wanted; });
}

const DiscardedTake* Trial::discardedTake(const std::string& wanted) const
{
    return findIn(discarded, [&](const DiscardedTake& t) { return t.entry.id == wanted; });
}

const Monitor* Trial::monitor(const std::string& wanted) const
{
    return findIn(monitors, [&](const Monitor& m) { return m.name == wanted; });
}

const StancePlacement* Trial::placementOf(const std::string& stanceName) const
{
    if (const auto own = placements.find(stanceName); own != placements.end())
        return &own->second;
    return placement ? &*placement : nullptr;
}

std::vector<std::string> usualOrientations()
{
    return { "upright", "side, tweeters out", "side, tweeters in" };
}

Result<Stance> parseStance(const std::string& name)
{
    const auto comma = name.find(',');
    Stance stance;
    if (comma != std::string::npos)
        stance = { trimmed(name.substr(0, comma)), trimmed(name.substr(comma + 1)) };
    if (stance.monitor.empty() || stance.orientation.empty())
        return Problem{ "stance-name", "\"" + name + "\" does not name a stance", "",
                        "Write the pair, a comma and the orientation, as in \"Heron 6, upright\"" };
    return stance;
}

Result<Trial> withTake(Trial trial, const TakeFiling& filing)
{
    if (trial.take(filing.takeId) != nullptr || trial.discardedTake(filing.takeId) != nullptr)
        return Problem{ "take-exists", "There is a take of this id already", filing.takeId, "" };
    const auto* monitor =
        findIn(trial.monitors, [&](const Monitor& m) { return m.name == filing.stance.monitor; });
    if (monitor && monitor->kind != filing.kind)
        return Problem{ "other-kind",
                        monitor->kind == Monitor::Kind::pair ? "This trial knows the monitor as a pair"
                                                             : "This trial knows the monitor as a single one",
                        filing.stance.monitor, "Give it another name, or take it as the trial knows it" };
    addStance(trial, filing);
    const auto setUp = setUpFor(trial, filing);
    if (!setUp)
        return setUp.problem();
    trial.takes.push_back({ filing.takeId, *setUp, filing.position, !filing.doubtful, filing.reason });
    return trial;
}

}
