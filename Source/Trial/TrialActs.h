#pragma once

#include "Core/Result.h"
#include "Trial/Trial.h"

#include <cstddef>
#include <variant>

namespace plumbline
{

/** Every act on a trial is a value with an inverse that is one too, so that it can be undone and done again.

    The optional members say where in its list something stood, or that it was made by the act: inverses fill
    them, so that what comes back is the very same trial. A user's act leaves them out. */
namespace acts
{

/** Files a take under another stance or set-up. A set-up and a stance that are new are made; monitor and
    orientation must be there. */
struct MoveTake
{
    std::string takeId;
    std::string stance;
    int setUpNumber = 1; ///< among the set-ups of that stance
    std::string when;    ///< ISO 8601, for a set-up that is made

    bool leavesSetUp = true, leavesStance = true; ///< false: what it came from goes, if nothing else is there
    std::optional<int> setUpId;                   ///< of a set-up that is made
    std::optional<std::size_t> setUpAt, stanceAt;
};

/** Takes away what counts of a take; its files move aside. */
struct DiscardTake
{
    std::string takeId;
    std::string reason;
    std::optional<std::size_t> at; ///< among the discarded
};

struct RestoreTake
{
    std::string takeId;
    std::optional<std::size_t> at; ///< among the takes
};

/** Whether a take counts, and why not. */
struct JudgeTake
{
    std::string takeId;
    bool keep = true;
    std::string reason;
};

/** Describes a monitor anew, or adds one (no former name). */
struct DescribeMonitor
{
    std::string formerName;
    Monitor monitor;
    std::optional<std::size_t> at;
};

/** Only one without stances. */
struct RemoveMonitor
{
    std::string name;
};

struct AddOrientation
{
    std::string name;
    std::optional<std::size_t> at;
};

struct RenameOrientation
{
    std::string formerName, name;
};

/** Only one without stances. */
struct RemoveOrientation
{
    std::string name;
};

struct RenameTrial
{
    std::string name;
};

/** What was noted of the room and of the microphone. */
struct NoteRoom
{
    std::string room;
    std::optional<double> temperatureC;
    std::string microphone;
};

struct SettleOn
{
    Choice choice;
};

struct WithdrawChoice
{
};

/** Weights of readings, all of them anew. */
struct SetWeights
{
    std::map<std::string, double> weights;
};

/** How a stance stands, or (no stance) all that have no placement of their own. */
struct SetPlacement
{
    std::string stance;
    std::optional<StancePlacement> placement; ///< nothing: not told
};

}

using TrialAct =
    std::variant<acts::MoveTake, acts::DiscardTake, acts::RestoreTake, acts::JudgeTake, acts::DescribeMonitor,
                 acts::RemoveMonitor, acts::AddOrientation, acts::RenameOrientation, acts::RemoveOrientation,
                 acts::RenameTrial, acts::NoteRoom, acts::SettleOn, acts::WithdrawChoice, acts::SetWeights,
                 acts::SetPlacement>;

/** The trial after an act, and the act that takes it back. */
struct Acted
{
    Trial trial;
    TrialAct inverse;
};

/** [any] Does an act. Pure; a refused one changes nothing.

    Problems: "no-such-take", "no-such-discarded", "no-such-monitor", "no-such-orientation", "no-choice",
    "stance-name", "set-up-number", "other-kind", "reference-take" (the choice returns to it),
    "has-stances", "no-name", "comma-in-name", "size", "name-taken", "not-listed", "choice", "weight",
    "placement", "figure". */
Result<Acted> act(Trial trial, const TrialAct& act);

}
