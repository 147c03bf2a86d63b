#include "Command/Commands.h"
#include "Command/Console.h"
#include "Command/PracticeReport.h"
#include "Command/PracticeSession.h"
#include "Command/PracticeTruth.h"
#include "Files/AnalysisFile.h"
#include "Files/AtomicFile.h"
#include "Files/ScenarioFile.h"

namespace plumbline
{

namespace fs = std::filesystem;

namespace
{

struct PracticeOptions
{
    std::string scenario, out, truth, pictures;
    std::uint64_t seed = 1;
    std::optional<int> setUps, takes;
    bool clean = false, replace = false, quiet = false;
};

struct PracticeOutcome
{
    std::vector<PracticeRow> rows; ///< the first take of each stance
    bool doubtful = false;
};

std::vector<TakeLabel> planOf(const Scenario& scenario)
{
    std::vector<TakeLabel> labels;
    for (std::size_t stance = 0; stance < scenario.stances.size(); ++stance)
        for (int setUp = 0; setUp < scenario.plan.setUps; ++setUp)
            for (int take = 0; take < scenario.plan.takes; ++take)
                labels.push_back({ stance, setUp, take, 0 });
    return labels;
}

Result<PracticeOutcome> measure(const PracticeRoom& room, TrialFolder& trial, const PracticeOptions& options)
{
    constexpr int blockSize = 512;
    PracticeSession session(room, blockSize);
    AnalysisSettings settings;
    settings.microphone = practiceMicrophone(room.scenario());
    const auto plan = planOf(room.scenario());
    console::Progress progress("take", plan.size(), options.quiet);
    PracticeOutcome outcome;
    for (std::size_t i = 0; i < plan.size(); ++i)
    {
        auto record = session.take(plan[i], options.clean, settings);
        if (!record)
            return record.problem();
        outcome.doubtful = outcome.doubtful || record->analysis.doubtful();
        if (plan[i].setUp == 0 && plan[i].take == 0)
            outcome.rows.push_back({ record->filing.stance, record->analysis });
        progress.reached(i + 1, record->filing.stance.name());
        if (const auto id = trial.add(std::move(*record)); !id)
            return id.problem();
    }
    return outcome;
}

/** Asked before anything is measured: what stands where the results go, and is not this program's? */
std::optional<Problem> refusalToWrite(const PracticeOptions& options)
{
    std::error_code error;
    if (!options.truth.empty() && fs::exists(options.truth, error) &&
        !readJsonFile(options.truth, "truth", truthSchemaVersion))
        return Problem{ "exists", "There is a file of this name that is not a truth", options.truth,
                        "Choose another name" };
    const bool inUse = !options.pictures.empty() && fs::exists(options.pictures, error) &&
                       !(fs::is_directory(options.pictures, error) && fs::is_empty(options.pictures, error));
    if (inUse && (!options.replace || !fs::exists(fs::path(options.pictures) / "all-stances.svg", error)))
        return Problem{ "exists", "This is there already", options.pictures,
                        "Choose another folder, or say --replace" };
    return std::nullopt;
}

Outcome writeTruth(const PracticeRoom& room, const std::string& file)
{
    return file.empty() ? Outcome(Done{}) : writeFileWhole(file, toText(truthJson(room)));
}

Outcome writePictures(const PracticeOptions& options, const std::string& room,
                      const std::vector<PracticeRow>& rows)
{
    if (options.pictures.empty())
        return Done{};
    std::error_code error;
    fs::create_directories(options.pictures, error);
    return writePracticePictures(options.pictures, room, rows);
}

Result<PracticeOutcome> practise(const PracticeRoom& room, const PracticeOptions& options)
{
    auto folder = NewFolder::begin(options.out, { "trial.json", "plumbline/trial/", TrialFolder::contents() },
                                   options.replace);
    if (!folder)
        return folder.problem();
    auto trial = TrialFolder::create(folder->path(), room.scenario().name);
    if (!trial)
        return trial.problem();
    if (auto described = trial->describe(describePractice(trial->trial(), room.scenario())); !described)
        return described.problem();
    auto outcome = measure(room, *trial, options);
    if (!outcome)
        return outcome;
    if (auto written = writeTruth(room, options.truth); !written)
        return written.problem();
    if (auto drawn = writePictures(options, room.scenario().studio.name, outcome->rows); !drawn)
        return drawn.problem();
    trial->stopWriting(); // a folder with an open file cannot be renamed everywhere
    if (auto kept = folder->commit(); !kept)
        return kept.problem();
    return outcome;
}

int practice(const PracticeOptions& options)
{
    auto scenario = readScenario(options.scenario);
    if (!scenario)
        return console::refuse(scenario.problem());
    if (auto refusal = refusalToWrite(options))
        return console::refuse(*refusal);
    scenario->plan.setUps = options.setUps.value_or(scenario->plan.setUps);
    scenario->plan.takes = options.takes.value_or(scenario->plan.takes);
    const PracticeRoom room(*scenario, scenario->sampleRateHz, options.seed);
    const auto outcome = practise(room, options);
    if (!outcome)
        return console::refuse(outcome.problem());
    console::say(practiceTable(outcome->rows), options.quiet);
    return outcome->doubtful ? console::doubtful : console::done;
}

}

void addPracticeCommand(CLI::App& app, Act& act)
{
    auto options = std::make_shared<PracticeOptions>();
    auto* command =
        app.add_subcommand("practice", "Measure simulated monitors in a simulated room: nothing sounds");
    command->add_option("scenario", options->scenario, "Monitors, room and microphone, as JSON")->required();
    command->add_option("--out", options->out, "The trial's folder")->required();
    command->add_option("--seed", options->seed, "Of all that chance decides")
        ->check(CLI::Range(0.0, 1e15))
        ->capture_default_str();
    command->add_option("--set-ups", options->setUps, "How often each stance is stood up")
        ->check(CLI::Range(1, 1000));
    command->add_option("--takes", options->takes, "Takes of each set-up")->check(CLI::Range(1, 1000));
    command->add_flag("--clean", options->clean,
                      "No noise, no jitter of the microphone, cabinets exactly in place");
    command->add_option("--truth", options->truth,
                        "File for the exact response of every stance, side and position");
    command->add_option("--pictures", options->pictures,
                        "Folder for pictures and CSV of the first take of each stance");
    command->add_flag("--replace", options->replace, "Replace the folder if this program wrote it");
    command->add_flag("--quiet", options->quiet, "Say nothing on success");
    command->callback([options, &act] { act = [options] { return practice(*options); }; });
}

}
