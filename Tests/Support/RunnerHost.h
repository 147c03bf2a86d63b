#pragma once

#include "Realtime/TakeRunner.h"

#include <algorithm>
#include <functional>
#include <vector>

namespace plumbline::test
{

/** A job of a plain ramp-free "sweep" of ones, so that a test sees at once what is played. */
inline TakeJob plainJob(std::size_t sweep = 4800, double rate = 48000.0, float level = 0.01f)
{
    TakeJob job;
    job.sweep.assign(sweep, level);
    job.leftStart = 2400;
    job.rightStart = job.leftStart + sweep + 4800;
    job.totalSamples = *job.rightStart + sweep + 4800;
    job.sampleRateHz = rate;
    job.ceiling = level;
    job.microphone.assign(job.totalSamples, 0.0f);
    job.reference.assign(job.totalSamples, 0.0f);
    return job;
}

/** Calls a runner as a host does: a constant mix goes in; what comes out is kept, and returned a block later.
    */
struct RunnerHost
{
    explicit RunnerHost(double rate = 48000.0) { runner.prepare(rate); }

    /** One block; `disturb` may change the Return before the runner sees it. */
    void block(int frames, const std::function<void(std::vector<float>&)>& disturb = {})
    {
        const auto count = static_cast<std::size_t>(frames);
        std::vector<float> left(count, mix), right(count, mix);
        microphone.resize(count, 0.0f);
        reference.resize(count, 0.0f);
        if (disturb)
            disturb(microphone);
        TakeBlock in;
        in.main = { left.data(), stereo ? right.data() : nullptr };
        in.returned = { connected ? microphone.data() : nullptr, loopback ? reference.data() : nullptr };
        in.frames = frames;
        in.offline = offline;
        runner.process(in);
        outLeft.insert(outLeft.end(), left.begin(), left.end());
        outRight.insert(outRight.end(), right.begin(), right.end());
        for (std::size_t i = 0; i < count; ++i)
            reference[i] = left[i] + right[i];
        microphone = reference;
    }

    /** Blocks until `done` or a generous end. @return whether it came to be done */
    bool until(const std::function<bool()>& done, int frames = 256)
    {
        for (int i = 0; i < 4000; ++i)
        {
            if (done())
                return true;
            block(frames);
        }
        return done();
    }

    /** Largest |output| from a sample on. */
    float loudestFrom(std::size_t sample) const
    {
        float most = 0.0f;
        for (std::size_t i = sample; i < outLeft.size(); ++i)
            most = std::max({ most, std::abs(outLeft[i]), std::abs(outRight[i]) });
        return most;
    }

    TakeRunner runner;
    float mix = 0.0f;
    bool stereo = true, connected = true, loopback = true, offline = false;
    std::vector<float> outLeft, outRight, microphone, reference;
};

}
