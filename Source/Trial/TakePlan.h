#pragma once

#include "Trial/Trial.h"

#include <optional>
#include <string>
#include <vector>

namespace plumbline
{

/** What was measured of a stance: takes at the seat that count, a set-up each, in the order of standing. */
struct StanceProgress
{
    Stance stance;
    std::vector<int> takes;
};

struct PlanWish
{
    int takesEach = 2;           ///< a set-up
    int leastStoodTwice = 3;     ///< stances; all where there are fewer
    bool allTwice = false;       ///< every stance is to be stood up twice
    double takeSeconds = 15.0;   ///< stimulus and the moments about it
    double standSeconds = 180.0; ///< to stand a pair up or lift it and put it back
};

/** One thing to do: stand a stance up (or leave it), and take. */
struct PlanStep
{
    enum class Act
    {
        goOn,   ///< as it stands now
        stand,  ///< put it up, another way than what stands there
        restand ///< lift it and put it back the same way: a new set-up
    };
    Act act = Act::stand;
    Stance stance;
    int setUp = 1; ///< its number
    int takes = 0;
    double seconds = 0.0;
    std::string words;
};

/** What is still to measure, in order: every stance once, then back through them, A B C C B A, which
    guards against drift and turns each monitor the fewest times; few takes, more set-ups.

    @param stances in the board's order; those of one pair are done together
    @param standing what stands there now, a stance's name; none at the start */
std::vector<PlanStep> planOf(const std::vector<StanceProgress>& stances, const PlanWish& wish,
                             const std::optional<std::string>& standing);

double secondsLeft(const std::vector<PlanStep>& steps);

/** [any] What a trial holds, for planOf(). */
std::vector<StanceProgress> progressOf(const Trial& trial);

}
