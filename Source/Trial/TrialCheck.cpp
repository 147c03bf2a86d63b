#include "Trial/TrialCheck.h"

#include <algorithm>
#include <cmath>
#include <set>

namespace plumbline
{

namespace
{

using Found = std::optional<Problem>;

Problem named(const char* code, std::string what, std::string where = {})
{
    return { code, std::move(what), std::move(where), "Give the trial as it was written" };
}

bool within(const std::optional<double>& value, double least, double most)
{
    return !value || (*value >= least && *value <= most); // false for NaN
}

template <class Items, class Key>
Found twice(const char* what, const Items& items, Key key)
{
    std::set<std::string> seen;
    for (const auto& item : items)
        if (!seen.insert(key(item)).second)
            return named("two-of-a-name",
                         std::string("there are two ") + what + " called \"" + key(item) + '"');
    return std::nullopt;
}

Found namesakes(const Trial& trial)
{
    std::vector<std::string> ids;
    for (const auto& take : trial.takes)
        ids.push_back(take.id);
    for (const auto& take : trial.discarded)
        ids.push_back(take.entry.id);
    const Found faults[] = {
        twice("monitors", trial.monitors, [](const Monitor& m) { return m.name; }),
        twice("orientations", trial.orientations, [](const std::string& o) { return o; }),
        twice("stances", trial.stances, [](const Stance& s) { return s.name(); }),
        twice("positions", trial.positions, [](const Position& p) { return p.name; }),
        twice("set-ups", trial.setUps, [](const SetUp& s) { return std::to_string(s.id); }),
        twice("set-ups of a stance", trial.setUps,
              [](const SetUp& s) { return s.stance + ", set-up " + std::to_string(s.number); }),
        twice("takes", ids, [](const std::string& id) { return id; }),
    };
    for (const auto& fault : faults)
        if (fault)
            return fault;
    return std::nullopt;
}

/** Names of what can be referred to, gathered once: a trial can have thousands of takes. */
struct Names
{
    explicit Names(const Trial& trial)
    {
        for (const auto& monitor : trial.monitors)
            monitors.insert(monitor.name);
        for (const auto& stance : trial.stances)
            stances.insert(stance.name());
        for (const auto& position : trial.positions)
            positions.insert(position.name);
        for (const auto& setUp : trial.setUps)
            setUps.insert(setUp.id);
    }

    std::set<std::string> monitors, stances, positions;
    std::set<int> setUps;
};

Found strayTake(const TakeEntry& take, const Names& names)
{
    if (!isPlainName(take.id))
        return named("take-id", "the id \"" + take.id + "\" of a take cannot be the name of a folder");
    if (!names.setUps.contains(take.setUp))
        return named("not-listed", "take \"" + take.id + "\" is of a set-up that is not listed");
    if (!names.positions.contains(take.position))
        return named("not-listed", "take \"" + take.id + "\" is at a position that is not listed");
    return std::nullopt;
}

Found strays(const Trial& trial)
{
    const Names names(trial);
    for (const auto& stance : trial.stances)
    {
        if (!names.monitors.contains(stance.monitor))
            return named("not-listed", "the monitor of \"" + stance.name() + "\" is not listed");
        if (std::count(trial.orientations.begin(), trial.orientations.end(), stance.orientation) == 0)
            return named("not-listed", "the orientation of \"" + stance.name() + "\" is not listed");
    }
    for (const auto& setUp : trial.setUps)
        if (!names.stances.contains(setUp.stance))
            return named("not-listed",
                         "set-up " + std::to_string(setUp.id) + " is of a stance that is not listed");
    for (const auto& take : trial.takes)
        if (auto fault = strayTake(take, names))
            return fault;
    for (const auto& take : trial.discarded)
        if (auto fault = strayTake(take.entry, names))
            return fault;
    for (const auto& [stance, placement] : trial.placements)
        if (!names.stances.contains(stance))
            return named("not-listed",
                         "the placement of \"" + stance + "\" is of a stance that is not listed");
    return std::nullopt;
}

}

bool isPlainName(const std::string& name)
{
    return !name.empty() && name != "." && name != ".." && name.size() <= 100 &&
           std::none_of(name.begin(), name.end(),
                        [](char c) {
                            return static_cast<unsigned char>(c) < 32 ||
                                   std::string("/\\:*?\"<>|").find(c) != std::string::npos;
                        });
}

std::optional<Problem> faultOf(const StancePlacement& placement)
{
    constexpr double far = 1e5;
    const bool sound = within(placement.apartCm, 0.0, far) && within(placement.distanceCm, 0.0, far) &&
                       within(placement.heightCm, 0.0, far) && within(placement.toeInDegrees, -180.0, 180.0);
    if (sound)
        return std::nullopt;
    return Problem{ "placement",
                    "a distance must be from 0 to 100000 cm and the toe-in from -180 to 180 degrees", "",
                    "Leave out what was not measured" };
}

std::optional<Problem> faultOf(const std::map<std::string, double>& weights)
{
    for (const auto& [reading, weight] : weights)
        if (reading.empty() || !within(weight, 0.0, 1000.0))
            return Problem{ "weight", "the weight of a reading must be from 0 to 1000", reading,
                            "Leave it out to give the reading its own weight" };
    return std::nullopt;
}

std::optional<Problem> faultOfTemperature(const std::optional<double>& temperatureC)
{
    if (within(temperatureC, -40.0, 60.0))
        return std::nullopt;
    return Problem{ "figure", "the room's temperature must be from -40 to 60 degrees Celsius", "",
                    "Leave it out if it was not measured" };
}

std::optional<Problem> faultOf(const Choice& choice, const Trial& trial)
{
    if (trial.stance(choice.stance) == nullptr)
        return named("not-listed", "the choice is a stance that is not listed", choice.stance);
    if (choice.date.size() < 10)
        return Problem{ "choice", "the choice has no date", choice.stance, "Write it as in 2026-05-01" };
    if (!within(choice.trimDb, -60.0, 60.0))
        return Problem{ "choice", "the trim of the choice must be from -60 to 60 dB", choice.stance, "" };
    if (!choice.referenceTake)
        return std::nullopt;
    const auto* take = trial.take(*choice.referenceTake);
    if (take == nullptr)
        return named("not-listed", "the take to return to is not listed", *choice.referenceTake);
    const auto* setUp = trial.setUp(take->setUp);
    if (setUp == nullptr || setUp->stance != choice.stance)
        return Problem{ "choice", "the take to return to is of another stance", *choice.referenceTake,
                        "Choose one of the stance settled on" };
    return std::nullopt;
}

std::optional<Problem> faultOf(const Trial& trial)
{
    if (auto fault = namesakes(trial))
        return fault;
    if (auto fault = strays(trial))
        return fault;
    if (auto fault = faultOfTemperature(trial.temperatureC))
        return fault;
    if (trial.placement)
        if (auto fault = faultOf(*trial.placement))
            return fault;
    for (const auto& [stance, placement] : trial.placements)
        if (auto fault = faultOf(placement))
            return fault;
    if (auto fault = faultOf(trial.weights))
        return fault;
    return trial.choice ? faultOf(*trial.choice, trial) : std::nullopt;
}

}
