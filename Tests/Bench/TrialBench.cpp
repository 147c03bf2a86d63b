// What opening a trial costs: a table of 10, 100 and 1,000 takes, in the page cache.
//
//   plumbline_trial_bench [FOLDER]     trials are made under FOLDER (the system's temporary one), and removed
//
//   open         trial.json, a look at every take's files, and the summaries of all takes as curves
//   files alone  the same files (trial.json, summary.json) read and parsed, and nothing else
//
// What could come out right here for the wrong reason: summaries without curves. Each take has both sides' curves of a
// full band, 1/48 octave, every point known and with its noise; the points that were read are counted. Or captures
// too small to matter if they were read: each is 2 MB of a sparse file, and more than opening may hold.
#include "Files/AnalysisFile.h"
#include "Files/TrialFolder.h"
#include "ResidentMemory.h"
#include "Timing.h"

#include "Dsp/FractionalOctave.h"
#include "Dsp/Random.h"

#include <cmath>
#include <filesystem>
#include <fstream>

using namespace plumbline;
using namespace plumbline::bench;
namespace fs = std::filesystem;

namespace
{

SideAnalysis sideOf(Random& random)
{
    SideAnalysis side;
    side.travelTimeSeconds = 0.003 + 1e-6 * random.uniform();
    side.polarity = 1;
    auto& curve = side.response;
    curve.frequencyHz = curveFrequencies(20.0, 20000.0);
    for (std::size_t i = 0; i < curve.frequencyHz.size(); ++i)
    {
        curve.levelDb.push_back(3.0 * random.normal());
        curve.phaseDeg.push_back(90.0 * random.normal());
        curve.noiseDb.push_back(-60.0 + random.normal());
        curve.sdDb.push_back(0.05 + 0.01 * random.uniform());
        curve.known.push_back(true);
    }
    return side;
}

TakeRecord recordOf(Random& random)
{
    TakeRecord record;
    StimulusSpec spec;
    spec.seconds = 1.0;
    record.capture.stimulus = designStimulus(spec).value();
    record.capture.microphone.assign(100, 0.0f);
    record.analysis.sampleRateHz = 48000.0;
    record.analysis.left = sideOf(random);
    record.analysis.right = sideOf(random);
    record.filing.stance = { "Heron 6", "upright" };
    return record;
}

/** Files one take by the program, and the others as copies of it under ids of their own, with curves of their own. */
void makeTrial(const fs::path& folder, int takes)
{
    Random random(5);
    auto made = TrialFolder::create(folder, "Bench");
    const auto first = made->add(recordOf(random)).value();
    Trial trial = made->trial();
    for (int n = 1; n < takes; ++n)
    {
        const auto id = "take" + std::to_string(n);
        fs::copy(folder / "takes" / first, folder / "takes" / id);
        const auto analysis = toJson(recordOf(random).analysis);
        const auto file = folder / "takes" / id / "analysis.json";
        std::ofstream(file, std::ios::binary) << toText(analysis);
        std::ofstream(folder / "takes" / id / "summary.json", std::ios::binary)
            << summaryText(summaryOf(analysis, "").value(), file);
        trial.takes.push_back({ id, trial.takes.front().setUp, "seat", true, "" });
    }
    for (const auto& take : trial.takes)
        fs::resize_file(folder / "takes" / take.id / "capture.wav", 2u << 20);
    if (const auto outcome = made->describe(trial); !outcome)
    {
        std::fprintf(stderr, "%s\n", outcome.problem().sentence().c_str());
        std::exit(1);
    }
}

std::size_t openAll(const fs::path& folder)
{
    const auto trial = TrialFolder::open(folder);
    const auto reading = trial->summaries();
    std::size_t points = 0;
    for (const auto& take : reading.takes)
        points += take.left.levelDb.size() + take.right->levelDb.size();
    return trial->report().notes.empty() && reading.notes.empty() ? points : 0;
}

std::string bytesOf(const fs::path& file)
{
    return readTextFile(file, 64u << 20).value();
}

std::size_t filesAlone(const fs::path& folder, const std::vector<fs::path>& summaries)
{
    std::size_t members = Json::parse(bytesOf(folder / "trial.json")).size();
    for (const auto& file : summaries)
        members += Json::parse(bytesOf(file)).size();
    return members;
}

std::vector<fs::path> summariesOf(const fs::path& folder)
{
    std::vector<fs::path> files;
    for (const auto& take : fs::directory_iterator(folder / "takes"))
        files.push_back(take.path() / "summary.json");
    return files;
}

struct Row
{
    Quartiles open, ratio;
    double megabytes = 0.0;
};

Row measure(const fs::path& folder, int takes)
{
    const auto files = summariesOf(folder);
    const int rounds = takes >= 1000 ? 9 : 21;
    std::vector<double> open, alone;
    std::size_t points = openAll(folder);
    filesAlone(folder, files);
    if (points != static_cast<std::size_t>(takes) * 2 * curveFrequencies(20.0, 20000.0).size())
    {
        std::fprintf(stderr, "Not all curves were read, or something was said of the trial.\n");
        std::exit(1);
    }
    for (int i = 0; i < rounds; ++i) // in turn
    {
        open.push_back(timed([&] { points += openAll(folder); }));
        alone.push_back(timed([&] { points += filesAlone(folder, files); }));
    }
    const ResidentMemory memory;
    points += openAll(folder);
    return { quartilesOf(open), ratiosOf(open, alone), memory.peakAboveMegabytes() };
}

}

int main(int count, char** arguments)
{
    const fs::path parent = count > 1 ? fs::path(arguments[1]) : fs::temp_directory_path();
    const auto top = parent / ("plumbline-trial-bench-" + std::to_string(FileLock::processNumber()));
    std::puts(
        "  takes    open, ms (lower .. upper)       ÷ the files alone (lower .. upper)   memory   ms a take");
    Row largest;
    for (const int takes : { 10, 100, 1000 })
    {
        const auto folder = top / std::to_string(takes);
        makeTrial(folder, takes);
        const auto row = measure(folder, takes);
        std::printf("  %5d  %8.2f (%.2f .. %.2f)       %.2f (%.2f .. %.2f)      %6.1f MB   %.3f\n", takes,
                    1e3 * row.open.median, 1e3 * row.open.lower, 1e3 * row.open.upper, row.ratio.median,
                    row.ratio.lower, row.ratio.upper, row.megabytes, 1e3 * row.open.median / takes);
        largest = row;
        fs::remove_all(folder);
    }
    std::printf("  1,000 takes: at most 1.5 x the files alone: %s; under 0.6 s: %s; under 150 MB: %s\n",
                verdict(largest.ratio.median <= 1.5), verdict(largest.open.median < 0.6),
                verdict(largest.megabytes < 150.0));
    fs::remove_all(top);
    return 0;
}
