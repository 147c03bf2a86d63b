#pragma once

#include "Plugin/Session.h"

#include <juce_core/juce_core.h>

namespace plumbline
{

/** Calls the session's step(): when woken, and every 20 ms while something is under way. */
class AnalysisThread final : private juce::Thread
{
public:
    explicit AnalysisThread(Session& itsSession) : juce::Thread("Plumbline analysis"), session(itsSession)
    {
        startThread();
    }

    ~AnalysisThread() override { stopThread(-1); }

    /** [any but audio] */
    void wake() { notify(); }

private:
    void run() override
    {
        constexpr int lookAgainMilliseconds = 20;
        session.begin();
        while (!threadShouldExit())
        {
            const bool underWay = session.step();
            wait(underWay ? lookAgainMilliseconds : -1);
        }
    }

    Session& session;
};

}
