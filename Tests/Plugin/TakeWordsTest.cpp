// What could pass here for the wrong reason: curves from the analysis and from the disk that agree because both are
// empty. They are compared value by value, unknown ones among them.

#include "Plugin/TakeWords.h"

#include "Files/AnalysisFile.h"
#include "Plugin/AnalysisWorker.h"
#include "Support/TrialFolders.h"

#include <catch2/catch.hpp>

using namespace plumbline;
using namespace plumbline::test;

TEST_CASE("Smoothing is worded alike from an analysis and from the disk")
{
    CHECK(smoothingInWords({ 0 }) == "no smoothing");
    CHECK(smoothingInWords({ 12 }) == "1/12 octave");
    const TemporaryFolder folder;
    for (const int perOctave : { 0, 3, 12, 48 })
    {
        auto analysis = takeOf(1).analysis;
        analysis.settings.smoothing = { perOctave };
        writeBytes(folder / "analysis.json", toText(toJson(analysis)));
        auto stored = readStoredAnalysis(folder / "analysis.json");
        REQUIRE(stored);
        CHECK(curvesOf(*stored).smoothing == curvesOf(analysis).smoothing);
        CHECK(curvesOf(analysis).smoothing == smoothingInWords({ perOctave }));
    }
}

TEST_CASE("A take shows the same from its analysis as from the disk, where it is known")
{
    const TemporaryFolder folder;
    auto analysis = takeOf(1).analysis;
    const bool pair = GENERATE(true, false);
    analysis.right->response.levelDb[0] = 4.0;
    if (!pair)
        analysis.right.reset();
    analysis.settings.microphone.sensitivityDbSpl.reset();
    if (pair)
        analysis.settings.microphone.sensitivityDbSpl = 120.0;
    analysis.faults = { { "clipped", Fault::Severity::doubt, "It clipped." } };
    writeBytes(folder / "analysis.json", toText(toJson(analysis)));
    const auto fresh = curvesOf(analysis);
    const auto read = curvesOf(readStoredAnalysis(folder / "analysis.json").value());
    CHECK(fresh.levelIsSpl == pair);
    CHECK(read.levelIsSpl == pair);
    CHECK(read.doubtful());
    CHECK(fresh.doubtful());
    CHECK(read.faults.at(0).words == "It clipped.");
    REQUIRE(read.right.has_value() == pair);
    REQUIRE(fresh.right.has_value() == pair);
    CHECK(read.left.frequencyHz == fresh.left.frequencyHz);
    CHECK(read.left.known == fresh.left.known);
    for (std::size_t i = 0; i < 3; ++i)
        if (fresh.left.known[i])
            CHECK(read.left.levelDb[i] == fresh.left.levelDb[i]);
    CHECK(read.left.noiseDb.empty() == fresh.left.noiseDb.empty());
    if (pair)
        CHECK(read.right->levelDb[0] == 4.0);
}

TEST_CASE("Doubts are worded one after another, notes are left out")
{
    CHECK(doubtsOf({}).empty());
    CHECK(doubtsOf({ { "a", Fault::Severity::note, "A note." } }).empty());
    CHECK(doubtsOf({ { "a", Fault::Severity::doubt, "One." },
                     { "b", Fault::Severity::note, "A note." },
                     { "c", Fault::Severity::doubt, "Two." } }) == "One. Two.");
}

TEST_CASE("A take's times add up to its stream and what is recorded after it")
{
    StimulusSpec spec;
    spec.sampleRateHz = 48000.0;
    spec.seconds = 3.0;
    spec.pair = GENERATE(true, false);
    const auto stimulus = designStimulus(spec).value();
    const auto times = timesOf(spec);
    CHECK(times.pair == spec.pair);
    CHECK(times.totalSeconds() ==
          Approx(static_cast<double>(stimulus.totalSamples) / 48000.0 + latencyAllowanceSeconds));
    CHECK(times.quietSeconds == Approx(1.0));
    CHECK(times.sweepSeconds == Approx(3.0).margin(0.5));
    if (spec.pair)
        CHECK((times.quietSeconds + times.sweepSeconds + times.restSeconds) * 48000.0 ==
              Approx(static_cast<double>(*stimulus.rightStart)));
}

TEST_CASE("Of a take that cannot be made no time is told")
{
    StimulusSpec spec;
    spec.band.toHz = 90000.0;
    REQUIRE_FALSE(designStimulus(spec));
    CHECK(timesOf(spec).totalSeconds() == 0.0); // "Nothing known: zeros"
}
