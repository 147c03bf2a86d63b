#include "Trial/TrialActs.h"

#include "Trial/TrialCheck.h"
#include "Trial/TrialEdits.h"

#include <algorithm>
#include <utility>

namespace plumbline
{

namespace
{

template <class Items, class Predicate>
std::optional<std::size_t> indexIn(const Items& items, Predicate matches)
{
    const auto found = std::find_if(items.begin(), items.end(), matches);
    return found == items.end() ? std::nullopt
                                : std::optional(static_cast<std::size_t>(found - items.begin()));
}

/** @return where it went: behind all others unless told */
template <class Item>
std::size_t insertAt(std::vector<Item>& items, const std::optional<std::size_t>& at, Item item)
{
    const auto index = std::min(at.value_or(items.size()), items.size());
    items.insert(items.begin() + static_cast<std::ptrdiff_t>(index), std::move(item));
    return index;
}

template <class Item>
Item takeOut(std::vector<Item>& items, std::size_t index)
{
    Item item = std::move(items[index]);
    items.erase(items.begin() + static_cast<std::ptrdiff_t>(index));
    return item;
}

std::optional<std::size_t> indexOfTake(const Trial& trial, const std::string& id)
{
    return indexIn(trial.takes, [&](const TakeEntry& t) { return t.id == id; });
}

std::optional<std::size_t> indexOfStance(const Trial& trial, const std::string& name)
{
    return indexIn(trial.stances, [&](const Stance& s) { return s.name() == name; });
}

std::optional<std::size_t> indexOfMonitor(const Trial& trial, const std::string& name)
{
    return indexIn(trial.monitors, [&](const Monitor& m) { return m.name == name; });
}

std::optional<std::size_t> indexOfOrientation(const Trial& trial, const std::string& name)
{
    return indexIn(trial.orientations, [&](const std::string& o) { return o == name; });
}

bool isReference(const Trial& trial, const std::string& takeId)
{
    return trial.choice && trial.choice->referenceTake == takeId;
}

Problem noSuchTake(const std::string& id)
{
    return { "no-such-take", "There is no take of this id", id,
             "It may have been discarded; restore it first" };
}

Problem referenceStays(const std::string& id)
{
    return { "reference-take", "The choice returns to this take", id,
             "Settle on another take to return to, or withdraw the choice, first" };
}

Result<Acted> acted(Trial trial, TrialAct inverse)
{
    return Acted{ std::move(trial), std::move(inverse) };
}

/** What a move made or left behind; its inverse needs it. */
struct Moving
{
    Trial& trial;
    acts::MoveTake inverse;

    Outcome makeStance(const acts::MoveTake& wanted, const Stance& stance)
    {
        if (trial.stance(stance.name()) != nullptr)
            return Done{};
        if (trial.monitor(stance.monitor) == nullptr)
            return Problem{ "no-such-monitor", "There is no monitor of this name", stance.monitor,
                            "Add it first" };
        if (!indexOfOrientation(trial, stance.orientation))
            return Problem{ "no-such-orientation", "There is no orientation of this name", stance.orientation,
                            "Add it first" };
        insertAt(trial.stances, wanted.stanceAt, stance);
        inverse.leavesStance = false;
        return Done{};
    }

    Result<int> makeSetUp(const acts::MoveTake& wanted, const std::string& stance)
    {
        if (const auto* known = trial.setUpOf(stance, wanted.setUpNumber))
            return known->id;
        if (wanted.setUpNumber < 1)
            return Problem{ "set-up-number",
                            "Set-up " + std::to_string(wanted.setUpNumber) + " is not a number from 1",
                            stance,
                            "Number the set-ups of a stance 1, 2, 3 in the order in which it was stood up" };
        int id = 1;
        for (const auto& setUp : trial.setUps)
            id = std::max(id, setUp.id + 1);
        if (wanted.setUpId && trial.setUp(*wanted.setUpId) == nullptr)
            id = *wanted.setUpId;
        insertAt(trial.setUps, wanted.setUpAt, SetUp{ id, stance, wanted.when, wanted.setUpNumber });
        inverse.leavesSetUp = false;
        return id;
    }

    bool inUse(int setUp) const
    {
        return indexIn(trial.takes, [&](const TakeEntry& t) { return t.setUp == setUp; }) ||
               indexIn(trial.discarded, [&](const DiscardedTake& t) { return t.entry.setUp == setUp; });
    }

    void leaveSetUp(int id)
    {
        if (inUse(id))
            return;
        inverse.setUpAt = indexIn(trial.setUps, [&](const SetUp& s) { return s.id == id; });
        inverse.setUpId = id;
        takeOut(trial.setUps, *inverse.setUpAt);
    }

    void leaveStance(const std::string& name)
    {
        const bool used = indexIn(trial.setUps, [&](const SetUp& s) { return s.stance == name; }) ||
                          trial.placements.contains(name) || (trial.choice && trial.choice->stance == name);
        const auto index = indexOfStance(trial, name);
        if (used || !index)
            return;
        inverse.stanceAt = index;
        takeOut(trial.stances, *index);
    }
};

struct Actor
{
    Trial trial;

    Result<Acted> operator()(const acts::MoveTake& wanted)
    {
        const auto index = indexOfTake(trial, wanted.takeId);
        if (!index)
            return noSuchTake(wanted.takeId);
        const auto stance = parseStance(wanted.stance);
        if (!stance)
            return stance.problem();
        const SetUp from = *trial.setUp(trial.takes[*index].setUp);
        const auto* monitor = trial.monitor(stance->monitor);
        const auto* before = trial.monitor(parseStance(from.stance)->monitor);
        if (monitor != nullptr && before != nullptr && monitor->kind != before->kind)
            return Problem{ "other-kind",
                            "A take of a pair cannot be one of a single monitor, nor the other way",
                            stance->monitor, "Move it to a stance of the same kind" };
        if (isReference(trial, wanted.takeId) && stance->name() != from.stance)
            return referenceStays(wanted.takeId);
        Moving moving{ trial,
                       { wanted.takeId, from.stance, from.number, from.stoodUp, true, true, {}, {}, {} } };
        if (auto made = moving.makeStance(wanted, *stance); !made)
            return made.problem();
        const auto setUp = moving.makeSetUp(wanted, stance->name());
        if (!setUp)
            return setUp.problem();
        trial.takes[*index].setUp = *setUp;
        if (!wanted.leavesSetUp)
            moving.leaveSetUp(from.id);
        if (!wanted.leavesStance)
            moving.leaveStance(from.stance);
        return acted(std::move(trial), std::move(moving.inverse));
    }

    Result<Acted> operator()(const acts::DiscardTake& wanted)
    {
        const auto index = indexOfTake(trial, wanted.takeId);
        if (!index)
            return noSuchTake(wanted.takeId);
        if (isReference(trial, wanted.takeId))
            return referenceStays(wanted.takeId);
        insertAt(trial.discarded, wanted.at, DiscardedTake{ takeOut(trial.takes, *index), wanted.reason });
        return acted(std::move(trial), acts::RestoreTake{ wanted.takeId, index });
    }

    Result<Acted> operator()(const acts::RestoreTake& wanted)
    {
        const auto index =
            indexIn(trial.discarded, [&](const DiscardedTake& t) { return t.entry.id == wanted.takeId; });
        if (!index)
            return Problem{ "no-such-discarded", "No take of this id was discarded", wanted.takeId, "" };
        auto discarded = takeOut(trial.discarded, *index);
        insertAt(trial.takes, wanted.at, std::move(discarded.entry));
        return acted(std::move(trial), acts::DiscardTake{ wanted.takeId, discarded.reason, index });
    }

    Result<Acted> operator()(const acts::JudgeTake& wanted)
    {
        const auto index = indexOfTake(trial, wanted.takeId);
        if (!index)
            return noSuchTake(wanted.takeId);
        auto& take = trial.takes[*index];
        const acts::JudgeTake inverse{ take.id, take.keep, take.reason };
        take.keep = wanted.keep;
        take.reason = wanted.reason;
        return acted(std::move(trial), inverse);
    }

    Result<Acted> operator()(const acts::DescribeMonitor& wanted)
    {
        const auto index = indexOfMonitor(trial, wanted.formerName);
        if (!wanted.formerName.empty() && !index)
            return Problem{ "no-such-monitor", "There is no monitor of this name", wanted.formerName,
                            "Add it" };
        const auto former = index ? std::optional(trial.monitors[*index]) : std::nullopt;
        auto changed = withMonitor(std::move(trial), wanted.formerName, wanted.monitor);
        if (!changed)
            return changed.problem();
        auto& monitors = changed->monitors;
        if (former)
            return acted(std::move(*changed), acts::DescribeMonitor{ monitors[*index].name, *former, {} });
        auto added = takeOut(monitors, monitors.size() - 1);
        const acts::RemoveMonitor inverse{ added.name };
        insertAt(monitors, wanted.at, std::move(added));
        return acted(std::move(*changed), inverse);
    }

    Result<Acted> operator()(const acts::RemoveMonitor& wanted)
    {
        const auto index = indexOfMonitor(trial, wanted.name);
        if (!index)
            return Problem{ "no-such-monitor", "There is no monitor of this name", wanted.name, "" };
        if (indexIn(trial.stances, [&](const Stance& s) { return s.monitor == wanted.name; }))
            return Problem{ "has-stances", "There are stances of this monitor", wanted.name,
                            "What was measured is not taken away" };
        auto monitor = takeOut(trial.monitors, *index);
        return acted(std::move(trial), acts::DescribeMonitor{ "", std::move(monitor), index });
    }

    /** What is wrong with the name of a new orientation. */
    std::optional<Problem> faultOfName(const std::string& name) const
    {
        const auto stance = parseStance("x," + name);
        if (!stance || stance->orientation != name)
            return Problem{ "no-name", "An orientation needs a name without blanks at its ends", name,
                            "Type one, such as \"upside down\"" };
        if (indexOfOrientation(trial, name))
            return Problem{ "name-taken", "There is an orientation of this name already", name,
                            "Give each its own name" };
        return std::nullopt;
    }

    Result<Acted> operator()(const acts::AddOrientation& wanted)
    {
        if (auto fault = faultOfName(wanted.name))
            return *fault;
        insertAt(trial.orientations, wanted.at, wanted.name);
        return acted(std::move(trial), acts::RemoveOrientation{ wanted.name });
    }

    Result<Acted> operator()(const acts::RenameOrientation& wanted)
    {
        const auto index = indexOfOrientation(trial, wanted.formerName);
        if (!index)
            return noSuchOrientation(wanted.formerName);
        if (wanted.name != wanted.formerName)
            if (auto fault = faultOfName(wanted.name))
                return *fault;
        trial.orientations[*index] = wanted.name;
        renameStances(trial,
                      [&](const Stance& stance) {
                          return stance.orientation == wanted.formerName
                                     ? Stance{ stance.monitor, wanted.name }
                                     : stance;
                      });
        return acted(std::move(trial), acts::RenameOrientation{ wanted.name, wanted.formerName });
    }

    Result<Acted> operator()(const acts::RemoveOrientation& wanted)
    {
        const auto index = indexOfOrientation(trial, wanted.name);
        if (!index)
            return noSuchOrientation(wanted.name);
        if (indexIn(trial.stances, [&](const Stance& s) { return s.orientation == wanted.name; }))
            return Problem{ "has-stances", "There are stances of this orientation", wanted.name,
                            "What was measured is not taken away" };
        takeOut(trial.orientations, *index);
        return acted(std::move(trial), acts::AddOrientation{ wanted.name, index });
    }

    Result<Acted> operator()(const acts::RenameTrial& wanted)
    {
        const acts::RenameTrial inverse{ std::exchange(trial.name, wanted.name) };
        return acted(std::move(trial), inverse);
    }

    Result<Acted> operator()(const acts::NoteRoom& wanted)
    {
        if (auto fault = faultOfTemperature(wanted.temperatureC))
            return *fault;
        acts::NoteRoom inverse{ wanted };
        std::swap(trial.room, inverse.room);
        std::swap(trial.temperatureC, inverse.temperatureC);
        std::swap(trial.microphone, inverse.microphone);
        return acted(std::move(trial), std::move(inverse));
    }

    Result<Acted> operator()(const acts::SettleOn& wanted)
    {
        if (auto fault = faultOf(wanted.choice, trial))
            return *fault;
        const auto former = std::exchange(trial.choice, wanted.choice);
        return acted(std::move(trial),
                     former ? TrialAct(acts::SettleOn{ *former }) : TrialAct(acts::WithdrawChoice{}));
    }

    Result<Acted> operator()(const acts::WithdrawChoice&)
    {
        if (!trial.choice)
            return Problem{ "no-choice", "Nothing was settled on yet", "", "" };
        const acts::SettleOn inverse{ *std::exchange(trial.choice, std::nullopt) };
        return acted(std::move(trial), inverse);
    }

    Result<Acted> operator()(const acts::SetWeights& wanted)
    {
        if (auto fault = faultOf(wanted.weights))
            return *fault;
        const acts::SetWeights inverse{ std::exchange(trial.weights, wanted.weights) };
        return acted(std::move(trial), inverse);
    }

    Result<Acted> operator()(const acts::SetPlacement& wanted)
    {
        if (wanted.placement)
            if (auto fault = faultOf(*wanted.placement))
                return *fault;
        if (wanted.stance.empty())
        {
            const acts::SetPlacement inverse{ "", std::exchange(trial.placement, wanted.placement) };
            return acted(std::move(trial), inverse);
        }
        if (trial.stance(wanted.stance) == nullptr)
            return Problem{ "not-listed", "There is no such stance", wanted.stance,
                            "Measure it first, or give the placement of all" };
        acts::SetPlacement inverse{ wanted.stance, std::nullopt };
        if (const auto own = trial.placements.find(wanted.stance); own != trial.placements.end())
            inverse.placement = own->second;
        trial.placements.erase(wanted.stance);
        if (wanted.placement)
            trial.placements[wanted.stance] = *wanted.placement;
        return acted(std::move(trial), std::move(inverse));
    }

    static Problem noSuchOrientation(const std::string& name)
    {
        return { "no-such-orientation", "There is no orientation of this name", name, "" };
    }
};

}

Result<Acted> act(Trial trial, const TrialAct& wanted)
{
    return std::visit(Actor{ std::move(trial) }, wanted);
}

}
