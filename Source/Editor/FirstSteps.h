#pragma once

#include "Plugin/EditorInterface.h"

#include <juce_core/juce_core.h>

namespace plumbline
{

/** How far the way to the first curve has been gone. */
struct FirstSteps
{
    enum Step
    {
        where,
        pairs,
        care,
        firstTake,
        all
    };

    bool whereTold = false, pairsTold = false, careRead = false, taken = false;
    bool careCanWait = false; ///< in the practice room nothing sounds

    /** Where the bob hangs: the first step that is still to be done. */
    Step next() const noexcept;
    bool isDone(Step step) const noexcept;
    /** "told", "now", "to read", "then" ... */
    juce::String stateOf(Step step) const;
};

/** What was told in this window and is not to be seen in the session. */
struct ToldHere
{
    bool where = false, pairsAreEnough = false;
};

FirstSteps firstStepsOf(const SessionView& view, const LiveState& live, const ToldHere& told);

/** Connect's words beside the board, for the step that is next. */
struct ConnectSaying
{
    juce::String headline, line, act, aside;
};

ConnectSaying connectSayingOf(const FirstSteps& steps, const SessionView& view, const LiveState& live);

/** "48 kHz", or that the host is not running. */
juce::String rateWords(const LiveState& live);

/** Why a monitor cannot be called that; empty if it can. @param former its name until now */
juce::String monitorNameRefusal(const juce::String& name, const juce::String& former, const Trial& trial);

}
