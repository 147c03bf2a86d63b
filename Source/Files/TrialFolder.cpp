#include "Files/TrialFolder.h"

#include "Files/AnalysisFile.h"
#include "Files/AtomicFile.h"
#include "Files/StimulusFile.h"
#include "Files/Version.h"
#include "Files/WavFile.h"

#include <juce_core/juce_core.h>

namespace plumbline
{

namespace fs = std::filesystem;

namespace
{

std::string newId()
{
    return juce::Uuid().toString().substring(0, 12).toStdString();
}

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

Outcome writeTake(const fs::path& folder, const TakeRecord& record, int setUp)
{
    const std::pair<const char*, std::string> files[] = {
        { "capture.wav", floatWavBytes(captureAudio(record.capture)) },
        { "capture.json", toText(captureJson(record, setUp)) },
        { "analysis.json", toText(toJson(record.analysis)) },
    };
    for (const auto& [name, bytes] : files)
        if (auto outcome = writeFileWhole(folder / name, bytes); !outcome)
            return outcome;
    return Done{};
}

}

std::string isoTimeNow()
{
    return juce::Time::getCurrentTime().toISO8601(true).toStdString();
}

const std::set<std::string>& TrialFolder::contents()
{
    static const std::set<std::string> names{ "trial.json",  "takes",        "discarded",
                                              "capture.wav", "capture.json", "analysis.json" };
    return names;
}

namespace
{
/** Name or id by which an item of a list is known; empty if it has none. */
std::string keyOf(const Json& item)
{
    for (const char* key : { "id", "name" })
        if (item.is_object() && item.contains(key))
            return item[key].dump();
    return {};
}

/** `fresh` with whatever else `stored` holds: keys that this version does not use are another's, and stay. */
Json withForeignKeys(const Json& stored, Json fresh)
{
    if (stored.is_object() && fresh.is_object())
        for (const auto& item : stored.items())
            fresh[item.key()] =
                fresh.contains(item.key()) ? withForeignKeys(item.value(), fresh[item.key()]) : item.value();
    if (stored.is_array() && fresh.is_array())
        for (auto& item : fresh)
            for (const auto& old : stored)
                if (!keyOf(item).empty() && keyOf(item) == keyOf(old))
                    item = withForeignKeys(old, item);
    return fresh;
}
}

TrialFolder::TrialFolder(fs::path where, Trial trial, Json asStored)
    : folder(std::move(where)), content(std::move(trial)), stored(std::move(asStored))
{
}

Result<TrialFolder> TrialFolder::create(const fs::path& folder, const std::string& name)
{
    std::error_code error;
    if (fs::exists(folder, error) && !(fs::is_directory(folder, error) && fs::is_empty(folder, error)))
        return Problem{ "exists", "There is something of this name that is not a trial", folder.string(),
                        "Choose another folder" };
    fs::create_directories(folder / "takes", error);
    if (error)
        return Problem{ "cannot-write", "The trial cannot be made (" + error.message() + ")", folder.string(),
                        "Check the disk's space and the folder's permissions" };
    Trial trial;
    trial.id = newId();
    trial.name = name;
    trial.orientations = usualOrientations();
    TrialFolder made(folder, trial, Json::object());
    if (auto saved = made.save(trial); !saved)
    {
        fs::remove_all(folder, error);
        return saved.problem();
    }
    return made;
}

Result<TrialFolder> TrialFolder::open(const fs::path& folder)
{
    auto value = readJsonFile(folder / "trial.json", "trial", trialSchemaVersion);
    if (!value)
        return value.problem();
    auto trial = trialFromJson(*value, (folder / "trial.json").string());
    if (!trial)
        return trial.problem();
    return TrialFolder(folder, std::move(*trial), std::move(*value));
}

Outcome TrialFolder::save(const Trial& trial)
{
    auto whole = withForeignKeys(stored, toJson(trial));
    auto outcome = writeFileWhole(folder / "trial.json", toText(whole));
    if (outcome)
    {
        content = trial;
        stored = std::move(whole);
    }
    return outcome;
}

Outcome TrialFolder::describe(Trial changed)
{
    return save(changed);
}

Result<std::string> TrialFolder::add(TakeRecord record)
{
    // Another may have filed takes since this was opened.
    auto latest = open(folder);
    if (!latest)
        return latest.problem();
    content = latest->content;
    stored = std::move(latest->stored);
    record.filing.takeId = newId();
    if (record.filing.when.empty())
        record.filing.when = isoTimeNow();
    auto filed = withTake(content, record.filing);
    if (!filed)
        return filed.problem();
    auto take = NewFolder::begin(folder / "takes" / record.filing.takeId, {}, false);
    if (!take)
        return take.problem();
    if (auto written = writeTake(take->path(), record, filed->takes.back().setUp); !written)
        return written.problem();
    if (auto kept = take->commit(); !kept)
        return kept.problem();
    if (auto saved = save(*filed); !saved)
    {
        std::error_code error;
        fs::remove_all(folder / "takes" / record.filing.takeId, error);
        return saved.problem();
    }
    return record.filing.takeId;
}

}
