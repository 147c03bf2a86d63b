#pragma once

#include "Dsp/PowerDensity.h"
#include "Measure/Capture.h"
#include "Timing.h"

#include <array>
#include <vector>

namespace plumbline::bench
{

/** The steps of an analysis one by one, as Measure/SideAnalyser takes them, each timed; both sides of a take
    together. */
class AnalysisSteps
{
public:
    struct Step
    {
        const char* name;
        std::vector<double> seconds; ///< a round
    };

    explicit AnalysisSteps(const Capture& capture);

    void run();

    const std::vector<Step>& steps() const { return all; }

    Quartiles sum() const;

private:
    enum Part
    {
        checks,
        placing,
        leadIn,
        reference,
        division,
        inverse,
        arrival,
        gating,
        reading,
        partCount
    };

    template <class Work>
    auto measured(Part part, Work&& work);
    void runSide(Side side, const PowerDensity& noise);

    const Capture& capture;
    std::vector<Step> all;
    std::array<double, partCount> now{};
};

}
