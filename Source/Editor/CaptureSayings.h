#pragma once

#include "Plugin/EditorInterface.h"

#include <juce_core/juce_core.h>

namespace plumbline
{

/** The one act that Capture offers now, and what keeps it off. */
struct TakeAct
{
    enum class Kind
    {
        start,
        chooseStance,
        readCare,
        acknowledge,
        none ///< a take is under way: Stop is in the header
    };

    Kind kind = Kind::start;
    juce::String words;
    juce::String whyOff; ///< empty: it is on
};

TakeAct takeActOf(const SessionView& view, const LiveState& live);

/** What Capture says in its words now. */
struct CaptureSaying
{
    juce::String headline;
    bool fromTwoMetres = false; ///< a take runs: large
    juce::String line;          ///< who stands here, or what to do
    juce::String more;

    bool operator==(const CaptureSaying&) const = default;
};

CaptureSaying captureSayingOf(const SessionView& view, const LiveState& live);

/** At what level it will play and what to do first; said under the act that starts it. */
struct Caution
{
    bool attend = false; ///< the level is raised
    juce::String words;
};

Caution cautionOf(const SessionView& view);

/** Above this a level is called raised, dBFS. */
inline constexpr double raisedLevelDbfs = -20.0;

/** The newest take of the set-up that stands here; null if there is none. */
std::shared_ptr<const TakeCurves> takeOfThisSetUp(const SessionView& view);

/** How the Return is reached in most hosts. */
juce::String returnRouting();

}
