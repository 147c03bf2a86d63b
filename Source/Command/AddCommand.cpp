#include "Command/CaptureOptions.h"
#include "Command/Commands.h"
#include "Command/Console.h"
#include "Files/TrialFolder.h"

#include <filesystem>

namespace plumbline
{

namespace fs = std::filesystem;

namespace
{

struct AddOptions
{
    std::string trial;
    CaptureOptions capture;
    std::string stance;
    int setUp = 1;
    std::string position = "seat";
    bool quiet = false;
};

Result<TrialFolder> openOrCreate(const fs::path& folder)
{
    std::error_code error;
    if (fs::exists(folder / "trial.json", error))
        return TrialFolder::open(folder);
    const auto named = folder.has_filename() ? folder : folder.parent_path();
    return TrialFolder::create(named, named.filename().string());
}

Result<TakeRecord> readRecord(const AddOptions& options)
{
    const auto stance = parseStance(options.stance);
    if (!stance)
        return stance.problem();
    auto read = readCapture(options.capture);
    if (!read)
        return read.problem();
    AnalysisSettings settings;
    settings.microphone = read->microphone;
    auto analysis = analyseTake(read->capture, settings);
    if (!analysis)
    {
        auto problem = analysis.problem();
        problem.where = options.capture.capture;
        return problem;
    }
    TakeRecord record{ std::move(read->capture), std::move(*analysis), {} };
    record.filing.stance = *stance;
    record.filing.kind = record.analysis.right ? Monitor::Kind::pair : Monitor::Kind::single;
    record.filing.setUpOrdinal = options.setUp;
    record.filing.position = options.position;
    record.filing.doubtful = record.analysis.doubtful();
    for (const auto& fault : record.analysis.faults)
        if (fault.severity == Fault::Severity::doubt)
            record.filing.reason += (record.filing.reason.empty() ? "" : " ") + fault.words;
    return record;
}

int add(const AddOptions& options)
{
    if (const auto misuse = misuseOf(options.capture); !misuse.empty())
        return console::misused(misuse, "add");
    auto record = readRecord(options);
    if (!record)
        return record.problem().code == "stance-name" ? console::misused(record.problem().sentence(), "add")
                                                      : console::refuse(record.problem());
    const bool doubtful = record->filing.doubtful;
    const auto reason = record->filing.reason;
    const bool fresh = !fs::exists(fs::path(options.trial) / "trial.json");
    auto folder = openOrCreate(options.trial);
    if (!folder)
        return console::refuse(folder.problem());
    const auto id = folder->add(std::move(*record));
    if (!id)
    {
        std::error_code error;
        if (fresh)
            fs::remove_all(options.trial, error); // nothing half-made stays
        return console::refuse(id.problem());
    }
    console::say("Filed take " + *id + " of \"" + options.stance + "\" in " + options.trial + ".",
                 options.quiet);
    if (doubtful)
        console::say("Doubtful, and not kept for comparing: " + reason, options.quiet);
    return doubtful ? console::doubtful : console::done;
}

}

void addAddCommand(CLI::App& app, Act& act)
{
    auto options = std::make_shared<AddOptions>();
    auto* command = app.add_subcommand("add", "File a recording in a trial as a take of one stance");
    command->add_option("trial", options->trial, "The trial's folder; made if it is new")->required();
    addCaptureOptions(*command, options->capture);
    command->add_option("--stance", options->stance, "\"PAIR, ORIENTATION\", as in \"Heron 6, upright\"")
        ->required();
    command->add_option("--set-up", options->setUp, "Which standing of this stance, counted from 1")
        ->check(CLI::Range(1, 1000))
        ->capture_default_str();
    command->add_option("--position", options->position, "Where the microphone stood")->capture_default_str();
    command->add_flag("--quiet", options->quiet, "Say nothing on success");
    command->callback([options, &act] { act = [options] { return add(*options); }; });
}

}
