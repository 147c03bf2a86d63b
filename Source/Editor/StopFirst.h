#pragma once

#include "Plugin/EditorInterface.h"

namespace plumbline
{

/** Escape stops whatever sounds, or is about to, before it closes or leaves anything. */
inline bool stopComesFirst(const LiveState& live) noexcept
{
    using enum LiveState::Phase;
    return live.phase == preparing || live.phase == armed || live.phase == taking || live.phase == stopping;
}

}
