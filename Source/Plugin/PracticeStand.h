#pragma once

#include "Core/Result.h"
#include "Measure/TakeAnalysis.h"
#include "PracticeRoom/PracticeRoom.h"
#include "Trial/Trial.h"

#include <memory>
#include <optional>

namespace plumbline
{

/** What is told of the practice room's microphone: its response as a calibration, the air. */
MicrophoneSetting practiceMicrophone(const Scenario& scenario);

/** A monitor of a trial as the practice room simulates it: a shipped one by its name, any other from the sizes
    that are told, with a plain two-way's figures for the rest. */
MonitorModel practiceModel(const Monitor& monitor, const Scenario& shipped);

/** [analysis] The practice room with a trial's monitors stood up in it, for the plugin. */
class PracticeStand
{
public:
    /** The room of one take. Problems: the stance is not one of the trial's, or cannot be simulated.
        @param take counts the takes of its set-up from 0 */
    Result<std::unique_ptr<RoomLoop>> loop(const Trial& trial, const std::string& stance, int setUp, int take,
                                           double sampleRateHz);

    /** How the takes of that room are to be analysed. Problems: the shipped room cannot be read. */
    Result<MicrophoneSetting> microphone();

private:
    Result<const Scenario*> shippedScenario();

    std::optional<Scenario> shipped;
    std::optional<PracticeRoom> room; ///< the last one made, and from what
    std::uint64_t roomSeed = 0;
};

}
