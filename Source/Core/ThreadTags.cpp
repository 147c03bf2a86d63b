#include "Core/ThreadTags.h"

#include <cassert>

namespace plumbline
{

namespace
{
thread_local constinit ThreadRole roleOfThisThread = ThreadRole::none;
}

ThreadRole currentThreadRole() noexcept
{
    return roleOfThisThread;
}

ScopedThreadRole::ScopedThreadRole(ThreadRole role) noexcept : former(roleOfThisThread)
{
    roleOfThisThread = role;
}

ScopedThreadRole::~ScopedThreadRole()
{
    roleOfThisThread = former;
}

void assertNotOnAudioThread() noexcept
{
    assert(roleOfThisThread != ThreadRole::audio);
}

}
