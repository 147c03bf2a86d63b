#include "Command/Commands.h"
#include "Command/CompareReport.h"
#include "Command/Console.h"
#include "Files/AnalysisFile.h"
#include "Files/AtomicFile.h"
#include "Files/ComparisonFile.h"
#include "Files/ComparisonPicture.h"
#include "Files/StoredTakes.h"
#include "Files/TrialFolder.h"
#include "Trial/RegionCauses.h"

#include <algorithm>

namespace plumbline
{

namespace
{

struct CompareOptions
{
    std::string trial, out;
    bool replace = false, quiet = false;
};

struct Compared
{
    std::shared_ptr<const Comparison> comparison;
    std::vector<Fault> faults;       ///< doubts first
    std::vector<std::string> causes; ///< of the regions
};

const NewFolder::Known& comparisonFolder()
{
    static const NewFolder::Known known{ "comparison.json",
                                         "plumbline/comparison/",
                                         { "comparison.json", "comparison.csv", "levels.svg",
                                           "difference-left.svg", "difference-right.svg" } };
    return known;
}

/** Why there is nothing to compare: what was left out belongs to the cause. */
Problem nothingToCompare(const std::string& code, const std::string& what, const std::string& trial,
                         const std::string& remedy, const std::vector<Fault>& faults)
{
    Problem problem{ code, what, trial, remedy };
    for (const auto& fault : faults)
        if (fault.severity == Fault::Severity::doubt)
            problem.remedy += (problem.remedy.empty() ? "" : ". ") +
                              fault.words.substr(0, fault.words.find_last_not_of('.') + 1);
    return problem;
}

/** What was found when the trial was opened, beside what storedTakes() tells of takes. */
std::vector<Fault> openingFaults(const TrialFolder& trial)
{
    std::vector<Fault> faults;
    for (const auto& note : trial.report().notes)
        faults.push_back({ note.code, Fault::Severity::note, note.sentence() });
    return faults;
}

Result<Compared> compareTrial(const std::string& path)
{
    auto folder = TrialFolder::open(path);
    if (!folder && folder.problem().code == "missing")
        return Problem{ "no-trial", "There is no trial here", path,
                        "Give the folder that holds trial.json, as plumbline add makes it" };
    if (!folder)
        return folder.problem();
    auto stored = storedTakes(*folder);
    const auto openings = openingFaults(*folder);
    stored.faults.insert(stored.faults.end(), openings.begin(), openings.end());
    if (stored.stances.empty())
        return nothingToCompare("no-kept-take", "No stance of this trial has a kept take", path,
                                "Measure two stances, or keep takes that were set aside", stored.faults);
    ComparisonSettings settings;
    settings.weights = folder->trial().weights;
    Compared result{ compare(std::move(stored.stances), settings), std::move(stored.faults), {} };
    result.causes = regionCauses(*result.comparison, folder->trial());
    const auto own = faultsOf(*result.comparison, folder->trial().positions);
    result.faults.insert(result.faults.end(), own.begin(), own.end());
    std::stable_partition(result.faults.begin(), result.faults.end(),
                          [](const Fault& fault) { return fault.severity == Fault::Severity::doubt; });
    const auto& stances = result.comparison->board->stances();
    if (stances.empty())
        return nothingToCompare("no-seat-take", "No stance has a take at the seat that can be compared", path,
                                "Measure at the seat, 300 Hz to 3 kHz at least", result.faults);
    if (stances.size() == 1)
        return nothingToCompare("one-stance",
                                "Only one stance can be compared, " + stances.front().data->name(), path,
                                "Measure a second one, or stand this pair another way", result.faults);
    return result;
}

Outcome writeComparison(const CompareOptions& options, const Compared& compared)
{
    auto folder = NewFolder::begin(options.out, comparisonFolder(), options.replace);
    if (!folder)
        return folder.problem();
    auto files = comparisonPictures(*compared.comparison);
    files["comparison.json"] = toText(toJson(*compared.comparison, compared.faults, compared.causes));
    files["comparison.csv"] = comparisonCsv(*compared.comparison);
    for (const auto& [name, bytes] : files)
        if (auto written = writeFileWhole(folder->path() / name, bytes); !written)
            return written;
    return folder->commit();
}

int runCompare(const CompareOptions& options)
{
    const auto compared = compareTrial(options.trial);
    if (!compared)
        return console::refuse(compared.problem());
    if (auto written = writeComparison(options, *compared); !written)
        return console::refuse(written.problem());
    console::say(comparisonTable(*compared->comparison) + '\n', options.quiet);
    for (const auto& sentence : compared->comparison->words)
        console::say(sentence, options.quiet);
    bool doubtful = false;
    for (const auto& fault : compared->faults)
    {
        const bool doubt = fault.severity == Fault::Severity::doubt;
        doubtful = doubtful || doubt;
        console::say((doubt ? "Doubtful: " : "Note: ") + fault.words, options.quiet);
    }
    console::say("Wrote " + options.out + ".", options.quiet);
    return doubtful ? console::doubtful : console::done;
}

}

void addCompareCommand(CLI::App& app, Act& act)
{
    auto options = std::make_shared<CompareOptions>();
    auto* command =
        app.add_subcommand("compare", "Compare a trial's stances: which is better, and is it real");
    command->add_option("trial", options->trial, "The trial's folder")->required();
    command->add_option("--out", options->out, "Folder for comparison.json, comparison.csv and pictures")
        ->required();
    command->add_flag("--replace", options->replace, "Replace the folder if this program wrote it");
    command->add_flag("--quiet", options->quiet, "Say nothing on success");
    command->callback([options, &act] { act = [options] { return runCompare(*options); }; });
}

}
