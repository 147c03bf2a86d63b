#include "Trial/TakePlan.h"

#include "Trial/StanceData.h"

#include <algorithm>

namespace plumbline
{

namespace
{
/** The board's order with the stances of each pair side by side, pairs in the order of their first stance. */
std::vector<StanceProgress> grouped(const std::vector<StanceProgress>& stances)
{
    std::vector<StanceProgress> order;
    for (const auto& first : stances)
    {
        const auto& pair = first.stance.monitor;
        if (std::any_of(order.begin(), order.end(), [&](const auto& s) { return s.stance.monitor == pair; }))
            continue;
        std::copy_if(stances.begin(), stances.end(), std::back_inserter(order),
                     [&](const auto& s) { return s.stance.monitor == pair; });
    }
    return order;
}

std::string countOf(int takes, bool more)
{
    return std::to_string(takes) + (more ? " more" : "") + (takes == 1 ? " take" : " takes");
}

class Planner
{
public:
    Planner(const std::vector<StanceProgress>& stances, const PlanWish& asked,
            const std::optional<std::string>& standing)
        : progress(grouped(stances)), wish(asked), now(standing.value_or(""))
    {
    }

    std::vector<PlanStep> plan()
    {
        finishWhatStands();
        for (auto& stance : progress)
            if (stance.takes.empty())
                stand(stance);
            else if (stance.takes.size() == 1)
                topUp(stance);
        int twice = static_cast<int>(std::count_if(progress.begin(), progress.end(),
                                                   [](const auto& s) { return s.takes.size() >= 2; }));
        for (auto stance = progress.rbegin(); stance != progress.rend(); ++stance)
            if (stance->takes.size() == 1 && (wish.allTwice || twice < wish.leastStoodTwice))
            {
                stand(*stance);
                ++twice;
            }
        return std::move(steps);
    }

private:
    void add(PlanStep::Act act, StanceProgress& stance, int takes)
    {
        PlanStep step{ act, stance.stance, static_cast<int>(stance.takes.size()), takes, 0.0, {} };
        step.seconds = takes * wish.takeSeconds + (act == PlanStep::Act::goOn ? 0.0 : wish.standSeconds);
        const auto name = stance.stance.name();
        switch (act)
        {
        case PlanStep::Act::goOn:
            step.words = name + ", as it stands: " + countOf(takes, true) + ".";
            break;
        case PlanStep::Act::stand:
            step.words = "Stand up " + name + ": " + countOf(takes, false) + ".";
            break;
        case PlanStep::Act::restand:
            step.words = "Lift " + name + " and put it back the same way: " + countOf(takes, false) + ".";
            break;
        }
        steps.push_back(step);
        now = name;
    }

    void stand(StanceProgress& stance)
    {
        const bool again = now == stance.stance.name();
        stance.takes.push_back(wish.takesEach);
        add(again ? PlanStep::Act::restand : PlanStep::Act::stand, stance, wish.takesEach);
    }

    void finishWhatStands()
    {
        for (auto& stance : progress)
            if (stance.stance.name() == now && !stance.takes.empty() && stance.takes.back() < wish.takesEach)
            {
                const int missing = wish.takesEach - stance.takes.back();
                stance.takes.back() = wish.takesEach;
                add(PlanStep::Act::goOn, stance, missing);
            }
    }

    /** A set-up that was left too early cannot be had again: the next one makes up for it. */
    void topUp(StanceProgress& stance)
    {
        if (stance.takes.front() < 1)
        {
            stance.takes.clear();
            stand(stance);
        }
    }

    std::vector<StanceProgress> progress;
    const PlanWish& wish;
    std::string now;
    std::vector<PlanStep> steps;
};
}

std::vector<PlanStep> planOf(const std::vector<StanceProgress>& stances, const PlanWish& wish,
                             const std::optional<std::string>& standing)
{
    return Planner(stances, wish, standing).plan();
}

double secondsLeft(const std::vector<PlanStep>& steps)
{
    double seconds = 0.0;
    for (const auto& step : steps)
        seconds += step.seconds;
    return seconds;
}

std::vector<StanceProgress> progressOf(const Trial& trial)
{
    std::vector<StanceProgress> progress;
    for (const auto& stance : trial.stances)
    {
        auto& one = progress.emplace_back();
        one.stance = stance;
        std::vector<const SetUp*> setUps;
        for (const auto& setUp : trial.setUps)
            if (setUp.stance == stance.name())
                setUps.push_back(&setUp);
        std::sort(setUps.begin(), setUps.end(),
                  [](const auto* a, const auto* b) { return a->number < b->number; });
        for (const auto* setUp : setUps)
            one.takes.push_back(static_cast<int>(std::count_if(trial.takes.begin(), trial.takes.end(),
                                                               [&](const TakeEntry& take) {
                                                                   return take.setUp == setUp->id &&
                                                                          take.keep &&
                                                                          take.position == seatName;
                                                               })));
    }
    return progress;
}

}
