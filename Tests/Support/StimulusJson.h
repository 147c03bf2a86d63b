#pragma once

#include "Files/Json.h"
#include "Files/StimulusFile.h"
#include "Support/TemporaryFolder.h"

#include <string>
#include <vector>

namespace plumbline::test
{

inline Stimulus designed(double rate, double seconds, Band band, double levelDbfs, bool pair = true)
{
    StimulusSpec spec;
    spec.sampleRateHz = rate;
    spec.seconds = seconds;
    spec.band = band;
    spec.levelDbfs = levelDbfs;
    spec.pair = pair;
    spec.leadInSeconds = 0.7654321;
    spec.silenceSeconds = 1.2345678;
    return designStimulus(spec).value();
}

/** Stimuli of several rates, lengths, bands and levels, for pairs and for one monitor. */
inline const std::vector<Stimulus>& severalStimuli()
{
    static const std::vector<Stimulus> all{ designed(48000.0, 1.0, { 20.0, 20000.0 }, -40.0),
                                            designed(44100.0, 1.37, { 31.7, 16000.3 }, -20.123456789, false),
                                            designed(8000.0, 1.0, { 5.0, 3000.0 }, -6.0),
                                            designed(96000.0, 1.1, { 1000.0 / 3.0, 2000.0 }, -119.99, false),
                                            designed(192000.0, 1.0, { 10.0, 40000.0 }, -17.0) };
    return all;
}

/** The first of them as JSON. */
inline Json goodStimulusJson()
{
    return toJson(severalStimuli()[0]);
}

/** What is known of a file of this text, named S.json. */
inline Result<CaptureNotes> notesOf(const std::string& text)
{
    const TemporaryFolder folder;
    writeBytes(folder / "S.json", text);
    return readCaptureNotes(folder / "S.json");
}

}
