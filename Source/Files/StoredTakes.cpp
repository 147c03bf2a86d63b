#include "Files/StoredTakes.h"

#include <algorithm>
#include <cmath>
#include <map>

namespace plumbline
{

namespace
{

Curve curveOf(const std::vector<float>& values, int firstStep)
{
    auto curve = unknownCurve();
    for (std::size_t i = 0; i < values.size(); ++i)
    {
        const long at = static_cast<long>(firstStep) + static_cast<long>(i) - curveGrid::lowestStep;
        if (at >= 0 && at < static_cast<long>(curve.size()) && std::isfinite(values[i]))
            curve[static_cast<std::size_t>(at)] = static_cast<double>(values[i]);
    }
    return curve;
}

SideData sideOf(const SideSummary& side, int firstStep)
{
    return { curveOf(side.levelDb, firstStep), curveOf(side.noiseDb, firstStep),
             curveOf(side.sdDb, firstStep), side.travelTimeSeconds, side.polarity };
}

/** Gathers a trial's takes, stance by stance. */
class Gatherer
{
public:
    explicit Gatherer(const TrialFolder& from) : folder(from), trial(from.trial())
    {
        for (const auto& stance : trial.stances)
        {
            placeOf[stance.name()] = all.size();
            auto& data = all.emplace_back();
            data.stance = stance;
            if (const auto* monitor = trial.monitor(stance.monitor); monitor != nullptr)
                data.monitor = *monitor;
        }
    }

    StoredTakes gather()
    {
        for (const auto& entry : trial.takes)
            if (entry.keep)
                place(entry);
            else
                ++notKept;
        tellOfStances();
        if (notKept > 0)
            say("takes-not-kept", Fault::Severity::note,
                std::to_string(notKept) +
                    (notKept == 1 ? " take is not kept and was" : " takes are not kept and were") +
                    " left out.");
        return std::move(result);
    }

private:
    void say(const std::string& code, Fault::Severity severity, const std::string& words)
    {
        result.faults.push_back({ code, severity, words });
    }

    void place(const TakeEntry& entry)
    {
        const auto* setUp = trial.setUp(entry.setUp);
        const auto found = setUp != nullptr ? placeOf.find(setUp->stance) : placeOf.end();
        if (found == placeOf.end())
            return say("take-homeless", Fault::Severity::doubt,
                       "Take " + entry.id + " belongs to no stance of this trial and was left out.");
        auto& stance = all[found->second];
        const auto named = "Take " + entry.id + " of " + stance.name();
        const auto summary = readSummary(folder.takeFolder(entry.id), folder.mayWrite());
        if (!summary)
            return say(summary.problem().code == "missing" ? "analysis-missing" : "analysis-damaged",
                       Fault::Severity::doubt, named + " was left out: " + summary.problem().sentence());
        const bool pair = stance.monitor.kind == Monitor::Kind::pair;
        if (pair != summary->right.has_value())
            return say("take-sides", Fault::Severity::doubt,
                       named + " was left out: it has " + (pair ? "one side" : "two sides") + ", and " +
                           stance.stance.monitor + (pair ? " is a pair." : " is a single monitor."));
        for (const auto& fault : summary->faults)
            if (fault.severity == Fault::Severity::doubt)
                say("take-doubtful", Fault::Severity::doubt, named + " is kept, though: " + fault.words);
        auto take = takeDataOf(*summary);
        take.id = entry.id;
        take.setUp = setUp->number;
        take.position = entry.position;
        stance.takes.push_back(std::move(take));
    }

    void tellOfStances()
    {
        for (auto& stance : all)
            if (stance.takes.empty())
                say("stance-without-takes", Fault::Severity::note,
                    stance.name() + " has no kept take and was left out.");
            else
                result.stances.push_back(std::move(stance));
    }

    const TrialFolder& folder;
    const Trial& trial;
    std::vector<StanceData> all;
    std::map<std::string, std::size_t> placeOf;
    std::size_t notKept = 0;
    StoredTakes result;
};

}

TakeData takeDataOf(const TakeSummary& summary)
{
    TakeData take;
    take.id = summary.takeId;
    take.sides.push_back(sideOf(summary.left, summary.firstStep));
    if (summary.right)
        take.sides.push_back(sideOf(*summary.right, summary.firstStep));
    take.conditions = { summary.sampleRateHz, summary.temperatureC, summary.calibration,
                        summary.smoothingPerOctave };
    return take;
}

StoredTakes storedTakes(const TrialFolder& folder)
{
    return Gatherer(folder).gather();
}

}
