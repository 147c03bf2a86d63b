#include "Files/AnalysisFile.h"
#include "Files/AtomicFile.h"
#include "Files/StimulusFile.h"
#include "Files/TrialFolder.h"
#include "Files/Version.h"
#include "Files/WavFile.h"

namespace plumbline
{

namespace fs = std::filesystem;

namespace
{

Json captureJson(const TakeRecord& record, int setUp)
{
    const auto& microphone = record.analysis.settings.microphone;
    const auto& start = record.capture.stimulusStart;
    return { { "schema", schemaName("capture", captureSchemaVersion) },
             { "id", record.filing.takeId },
             { "stance", record.filing.stance.name() },
             { "setUp", setUp },
             { "position", record.filing.position },
             { "takenAt", isoTimeNow() },
             { "sampleRateHz", record.capture.stimulus.spec.sampleRateHz },
             { "levelDbfs", record.capture.stimulus.spec.levelDbfs },
             { "stimulus", toJson(record.capture.stimulus) },
             { "stimulusStartSample", start ? Json(*start) : Json() },
             { "microphoneChannel", 1 },
             { "referenceChannel", record.capture.reference.empty() ? Json() : Json(2) },
             { "calibration", toJson(microphone.calibration) },
             { "sensitivityDbSpl",
               microphone.sensitivityDbSpl ? Json(*microphone.sensitivityDbSpl) : Json() },
             { "temperatureC", microphone.temperatureC },
             { "faults", toJson(record.analysis.faults) },
             { "program", { { "name", "Plumbline" }, { "version", programVersion } } } };
}

WavAudio captureAudio(const Capture& capture)
{
    WavAudio audio;
    audio.sampleRateHz = capture.stimulus.spec.sampleRateHz;
    audio.channels.push_back(capture.microphone);
    if (!capture.reference.empty())
        audio.channels.push_back(capture.reference);
    return audio;
}

}

Outcome writeTakeFiles(const fs::path& folder, const TakeRecord& record, int setUp)
{
    const std::pair<const char*, std::string> files[] = {
        { "capture.wav", floatWavBytes(captureAudio(record.capture)) },
        { "capture.json", toText(captureJson(record, setUp)) },
        { "analysis.json", toText(toJson(record.analysis)) },
    };
    for (const auto& [name, bytes] : files)
        if (auto outcome = writeFileWhole(folder / name, bytes); !outcome)
            return outcome;
    auto summary = summaryOf(toJson(record.analysis), (folder / "analysis.json").string());
    if (!summary)
        return summary.problem();
    return writeFileWhole(folder / "summary.json", summaryText(*summary, folder / "analysis.json"));
}

}
