#include "Command/PracticeSession.h"

namespace plumbline
{

PracticeSession::PracticeSession(const PracticeRoom& practiceRoom, int blockSize)
    : room(practiceRoom), plugin(AnalysisDrive::byHand), buffer(4, blockSize)
{
    plugin.setRateAndBufferSizeDetails(room.sampleRateHz(), blockSize);
    plugin.prepareToPlay(room.sampleRateHz(), blockSize);
}

TakeRequest PracticeSession::request(const TakeLabel& label, const AnalysisSettings& settings) const
{
    const auto& scenario = room.scenario();
    const auto standing = room.standing(label.stance);
    TakeRequest wanted;
    wanted.stimulus.seconds = scenario.plan.sweepSeconds;
    wanted.stimulus.levelDbfs = scenario.plan.levelDbfs;
    wanted.stimulus.leadInSeconds = scenario.plan.leadInSeconds;
    wanted.stimulus.silenceSeconds = scenario.plan.silenceSeconds;
    wanted.stimulus.pair = standing.cabinets.size() == 2;
    wanted.analysis = settings;
    return wanted;
}

std::size_t PracticeSession::runBlocks(const TakeLabel& label, bool clean, const TakeRequest& wanted)
{
    RoomLoop loop = room.loop(label, clean);
    if (plugin.requestTake(wanted))
        return 0;
    plugin.stepAnalysis(); // makes the stimulus and lends it
    juce::MidiBuffer midi;
    std::size_t samples = 0;
    buffer.clear();
    const int frames = buffer.getNumSamples();
    bool begun = false;
    while (true)
    {
        buffer.clear(0, 0, frames); // no mix
        buffer.clear(1, 0, frames);
        plugin.processBlock(buffer, midi);
        samples += static_cast<std::size_t>(frames);
        const auto phase = plugin.takeStatus().phase;
        begun = begun || phase == TakePhase::taking;
        if (phase == TakePhase::failed || (begun && phase == TakePhase::idle) || phase == TakePhase::idle)
            return samples;
        loop.process(buffer.getArrayOfReadPointers(), frames, buffer.getWritePointer(2),
                     buffer.getWritePointer(3));
    }
}

Result<TakeRecord> PracticeSession::take(const TakeLabel& label, bool clean, const AnalysisSettings& settings)
{
    runBlocks(label, clean, request(label, settings));
    plugin.stepAnalysis(); // analyses and publishes
    const auto result = plugin.takeStatus().latest;
    if (result == nullptr)
        return Problem{ "no-take", "The take did not run", "", "" };
    if (result->problem)
        return *result->problem;
    const auto& stance = room.scenario().stances[label.stance];
    TakeRecord record{ *result->capture, *result->analysis, {} };
    record.filing.stance = { stance.monitor, std::string(orientationName(stance.orientation)) };
    record.filing.kind = record.analysis.right ? Monitor::Kind::pair : Monitor::Kind::single;
    record.filing.setUpOrdinal = label.setUp + 1;
    record.filing.position = room.positionName(label.position);
    record.filing.doubtful = record.analysis.doubtful();
    return record;
}

Trial describePractice(Trial trial, const Scenario& scenario)
{
    trial.room = scenario.studio.name;
    for (const auto& model : scenario.monitors)
    {
        Monitor monitor;
        monitor.name = model.name;
        monitor.kind = model.kind == MonitorModel::Kind::pair ? Monitor::Kind::pair : Monitor::Kind::single;
        monitor.widthCm = model.cabinetWidthCm;
        monitor.heightCm = model.cabinetHeightCm;
        monitor.depthCm = model.cabinetDepthCm;
        monitor.driverSpacingCm = 100.0 * model.driverSpacingM;
        if (model.crossoverHz > 0.0)
            monitor.crossoverHz = model.crossoverHz;
        trial.monitors.push_back(std::move(monitor));
    }
    trial.positions.push_back({ "seat", std::array<double, 3>{} });
    for (const auto& position : scenario.microphone.positions)
        trial.positions.push_back({ position.name, std::array{ position.yCm, position.xCm, position.zCm } });
    return trial;
}

}
