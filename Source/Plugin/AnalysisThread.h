#pragma once

#include "Plugin/AnalysisWorker.h"

#include <juce_core/juce_core.h>

namespace plumbline
{

/** Calls the worker's step(): when woken, and every 20 ms while something is under way. */
class AnalysisThread final : private juce::Thread
{
public:
    explicit AnalysisThread(AnalysisWorker& analysisWorker)
        : juce::Thread("Plumbline analysis"), worker(analysisWorker)
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
        while (!threadShouldExit())
        {
            const bool underWay = worker.step();
            wait(underWay ? lookAgainMilliseconds : -1);
        }
    }

    AnalysisWorker& worker;
};

}
