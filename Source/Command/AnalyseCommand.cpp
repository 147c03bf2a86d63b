#include "Command/CaptureOptions.h"
#include "Command/Commands.h"
#include "Command/Console.h"
#include "Files/AnalysisFile.h"
#include "Files/AtomicFile.h"
#include "Files/ResponsePicture.h"

namespace plumbline
{

namespace
{

struct AnalyseOptions
{
    CaptureOptions capture;
    std::string out;
    std::string smoothing = "12";
    std::string window = "auto";
    bool replace = false, quiet = false;
};

const NewFolder::Known& analysisFolder()
{
    static const NewFolder::Known known{ "analysis.json",
                                         "plumbline/analysis/",
                                         { "analysis.json", "response.csv", "response.svg" } };
    return known;
}

Outcome writeAnalysis(const AnalyseOptions& options, const TakeAnalysis& analysis)
{
    auto folder = NewFolder::begin(options.out, analysisFolder(), options.replace);
    if (!folder)
        return folder.problem();
    const auto title = std::filesystem::path(options.capture.capture).filename().string();
    const std::pair<const char*, std::string> files[] = { { "analysis.json", toText(toJson(analysis)) },
                                                          { "response.csv", responseCsv(analysis) },
                                                          { "response.svg",
                                                            responsePicture(analysis, title) } };
    for (const auto& [name, bytes] : files)
        if (auto written = writeFileWhole(folder->path() / name, bytes); !written)
            return written;
    return folder->commit();
}

/** A problem of the analysis itself does not know the file's name. */
Problem inFile(Problem problem, const std::string& file)
{
    if (problem.where.empty())
        problem.where = file;
    return problem;
}

int analyse(const AnalyseOptions& options)
{
    AnalysisSettings settings;
    const auto smoothing = parseSmoothing(options.smoothing);
    const auto window = parseWindow(options.window);
    if (!smoothing)
        return console::misused("--smoothing takes none or a number from 1 to 48", "analyse");
    if (!window)
        return console::misused("--window takes full, auto or a length in milliseconds", "analyse");
    settings.smoothing = *smoothing;
    settings.window = *window;
    if (const auto misuse = misuseOf(options.capture); !misuse.empty())
        return console::misused(misuse, "analyse");
    const auto read = readCapture(options.capture);
    if (!read)
        return console::refuse(read.problem());
    settings.microphone = read->microphone;
    const auto analysis = analyseTake(read->capture, settings);
    if (!analysis)
        return console::refuse(inFile(analysis.problem(), options.capture.capture));
    if (auto written = writeAnalysis(options, *analysis); !written)
        return console::refuse(written.problem());
    console::say("Wrote " + options.out + ".", options.quiet);
    for (const auto& fault : analysis->faults)
        console::say((fault.severity == Fault::Severity::doubt ? "Doubtful: " : "Note: ") + fault.words,
                     options.quiet);
    return analysis->doubtful() ? console::doubtful : console::done;
}

}

void addAnalyseCommand(CLI::App& app, Act& act)
{
    auto options = std::make_shared<AnalyseOptions>();
    auto* command = app.add_subcommand("analyse", "Analyse a recording of the stimulus, made in any program");
    addCaptureOptions(*command, options->capture);
    command->add_option("--out", options->out, "Folder for analysis.json, response.csv and response.svg")
        ->required();
    command->add_option("--smoothing", options->smoothing, "none, or N for 1/N octave (1 to 48)")
        ->capture_default_str();
    command->add_option("--window", options->window, "full, auto, or a length in ms after the first arrival")
        ->capture_default_str();
    command->add_flag("--replace", options->replace, "Replace the folder if this program wrote it");
    command->add_flag("--quiet", options->quiet, "Say nothing on success");
    command->callback([options, &act] { act = [options] { return analyse(*options); }; });
}

}
