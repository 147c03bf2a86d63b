#pragma once

#include "Plugin/Parameters.h"

#include <string>
#include <string_view>

namespace plumbline
{

/** What a session keeps of the plugin: JSON, "plumbline/host-state/1". The level is not kept above its start:
    no session ever begins louder than -40 dBFS. */
std::string hostState(const Parameters& parameters);

/** Takes a state back. Unknown or damaged text leaves the parameters at their defaults. @return whether it
    was sound */
bool restoreHostState(Parameters& parameters, std::string_view text);

}
