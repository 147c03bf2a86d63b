#pragma once

#include "Plugin/Parameters.h"

#include <string>
#include <string_view>

namespace plumbline
{

/** Where a trial lives. */
struct TrialIdentity
{
    std::string id, folder;

    bool operator==(const TrialIdentity&) const = default;
};

/** What a host's session keeps besides the parameters. */
struct SessionState
{
    TrialIdentity trial; ///< both empty: none was made yet
    std::string hereNow; ///< the stance that stood there
    int hereSetUp = 1;
    bool practiceRoom = false;
    std::string setAside; ///< a state that could not be read, as it came; kept for whoever can

    bool operator==(const SessionState&) const = default;
};

/** The most that a host is given to keep, bytes. */
inline constexpr std::size_t mostHostStateBytes = 256u << 10;

/** The most that is kept, in a session, of a state that could not be read, bytes: as text it is a third more,
    and must fit beside the rest. */
inline constexpr std::size_t mostSetAsideBytes = 150u << 10;

/** What a session keeps of the plugin: JSON, "plumbline/host-state/1". The level is not kept above its start:
    no session ever begins louder than -40 dBFS. */
std::string hostState(const Parameters& parameters, const SessionState& session);

/** A state as it was read back. */
struct RestoredState
{
    bool sound = false;
    SessionState session;
};

/** Takes a state back. Unknown or damaged text leaves the parameters at their defaults and is set aside in the
    session. */
RestoredState restoreHostState(Parameters& parameters, std::string_view text);

}
