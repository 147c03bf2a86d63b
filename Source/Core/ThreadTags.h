#pragma once

namespace plumbline
{

/** The roles a thread can have. "The audio thread" is a role and not one OS thread: hosts move it about, so a
    role is worn for the length of a call.

    Tags in comments say which role may call: [audio] [analysis] [message] [any].
*/
enum class ThreadRole
{
    none,
    audio,
    analysis
};

/** [any] The role worn by the calling thread now. */
ThreadRole currentThreadRole() noexcept;

/** Wears a role for a scope, and takes the former one back afterwards. */
class ScopedThreadRole
{
public:
    explicit ScopedThreadRole(ThreadRole role) noexcept;
    ~ScopedThreadRole();
    ScopedThreadRole(const ScopedThreadRole&) = delete;
    ScopedThreadRole& operator=(const ScopedThreadRole&) = delete;

private:
    ThreadRole former;
};

/** Debug assertion that backs the tag "never [audio]". */
void assertNotOnAudioThread() noexcept;

}
