#pragma once

#include "Dsp/Random.h"
#include "Files/AnalysisFile.h"
#include "Files/StimulusFile.h"
#include "Files/TrialFolder.h"
#include "Files/WavFile.h"
#include "Support/TemporaryFolder.h"

#include <catch2/catch.hpp>
#include <filesystem>
#include <string>
#include <vector>

namespace plumbline::test
{

inline std::vector<float> noiseSamples(std::size_t count, std::uint64_t seed)
{
    Random random(seed);
    std::vector<float> samples(count);
    for (auto& sample : samples)
        sample = static_cast<float>(0.1 * random.normal());
    return samples;
}

/** An analysed side of three frequencies, the middle one unknown. */
inline SideAnalysis shortSide()
{
    SideAnalysis side;
    side.travelTimeSeconds = 0.0031;
    side.polarity = 1;
    side.response.frequencyHz = { 500.0, 1000.0, 2000.0 };
    side.response.levelDb = { -1.0, 0.0, -2.5 };
    side.response.phaseDeg = { 10.0, 0.0, -20.0 };
    side.response.known = { true, false, true };
    return side;
}

/** A take made by hand: `count` samples of microphone and loopback. */
inline TakeRecord takeOf(std::uint64_t seed, std::size_t count = 400)
{
    static const auto stimulus = []
    {
        StimulusSpec spec;
        spec.sampleRateHz = 24000.0;
        spec.seconds = 1.0;
        spec.band = { 20.0, 10000.0 };
        return designStimulus(spec).value();
    }();
    TakeRecord record;
    record.capture.stimulus = stimulus;
    record.capture.microphone = noiseSamples(count, seed);
    record.capture.reference = noiseSamples(count, seed + 1000);
    record.capture.stimulusStart = -17;
    record.analysis.sampleRateHz = stimulus.spec.sampleRateHz;
    record.analysis.settings.microphone = {
        Calibration::fromPoints("Serial 17", { { 20.0, -1.5, 0.0 }, { 20000.0, 2.5, 0.0 } }, false).value(),
        119.5, 22.5
    };
    record.analysis.left = shortSide();
    record.analysis.right = shortSide();
    record.filing.stance = { "Heron 6", "upright" };
    return record;
}

/** The trial in a folder, read anew. */
inline Trial opened(const std::filesystem::path& folder)
{
    const auto trial = TrialFolder::open(folder);
    if (!trial)
        FAIL(trial.problem().sentence());
    return trial->trial();
}

/** What is missing of a take's files; empty if they are whole and say the same. */
inline std::string faultOfTake(const std::filesystem::path& folder, const TakeEntry& take)
{
    const auto of = folder / "takes" / take.id;
    std::error_code error;
    if (!std::filesystem::is_directory(of, error))
        return "it is not there";
    const auto audio = readWav(of / "capture.wav");
    if (!audio)
        return audio.problem().sentence();
    if (const auto notes = readCaptureNotes(of / "capture.json"); !notes)
        return notes.problem().sentence();
    if (const auto capture = readJsonFile(of / "capture.json", "capture", 1);
        !capture || (*capture)["id"] != take.id)
        return "another take's capture.json";
    if (const auto analysis = readJsonFile(of / "analysis.json", "analysis", 1); !analysis)
        return analysis.problem().sentence();
    return namesIn(of).size() == 4 ? "" : "other files beside";
}

}
