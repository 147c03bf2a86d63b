#include "Command/Commands.h"
#include "Command/Console.h"
#include "Files/AnalysisFile.h"
#include "Files/AtomicFile.h"
#include "Files/StimulusFile.h"
#include "Files/WavFile.h"

#include <filesystem>

namespace plumbline
{

namespace fs = std::filesystem;

namespace
{

struct StimulusOptions
{
    std::string out;
    StimulusSpec spec;
    bool quiet = false;
};

/** Only a stimulus of ours is written over. */
std::optional<Problem> refusalToOverwrite(const fs::path& wav, const fs::path& json)
{
    std::error_code error;
    if (!fs::exists(wav, error) && !fs::exists(json, error))
        return std::nullopt;
    if (fs::is_directory(wav, error))
        return Problem{ "is-a-folder", "There is a folder of this name", wav.string(),
                        "Choose another name" };
    if (fs::exists(json, error) && readCaptureNotes(json))
        return std::nullopt;
    return Problem{ "exists", "There is a file of this name that is not a stimulus", wav.string(),
                    "Choose another name" };
}

int writeStimulus(const StimulusOptions& options)
{
    const auto stimulus = designStimulus(options.spec);
    if (!stimulus)
        return console::misused(stimulus.problem().sentence(), "stimulus");
    const fs::path wav = options.out;
    if (wav.extension() != ".wav")
        return console::misused("--out must name a file that ends in .wav", "stimulus");
    const auto json = fs::path(wav).replace_extension(".json");
    if (auto refusal = refusalToOverwrite(wav, json))
        return console::refuse(*refusal);
    std::error_code error;
    const bool fresh = !fs::exists(wav, error);
    const WavAudio audio{ options.spec.sampleRateHz, stimulusChannels(*stimulus) };
    if (auto written = writeFileWhole(wav, floatWavBytes(audio)); !written)
        return console::refuse(written.problem());
    if (auto written = writeFileWhole(json, toText(toJson(*stimulus))); !written)
    {
        if (fresh)
            fs::remove(wav, error);
        return console::refuse(written.problem());
    }
    const auto seconds = static_cast<double>(stimulus->totalSamples) / options.spec.sampleRateHz;
    console::say("Wrote " + wav.string() + " (" + std::to_string(std::lround(seconds)) + " s) and " +
                     json.string() + ". Turn the monitors down before you play it, and raise them slowly.",
                 options.quiet);
    return console::done;
}

}

void addStimulusCommand(CLI::App& app, Act& act)
{
    auto options = std::make_shared<StimulusOptions>();
    options->spec.levelDbfs = -20.0;
    auto* command = app.add_subcommand(
        "stimulus", "Write a stimulus to play in any program: left, then right, in one stream.\n"
                    "Turn the monitors down first: a sweep at full level can hurt ears and small drivers. "
                    "Start low, raise it "
                    "slowly, and keep ears away from the cabinets.");
    command->add_option("--out", options->out, "The WAV to write; a .json beside it describes it")
        ->required();
    command->add_option("--rate", options->spec.sampleRateHz, "Sample rate in Hz")->capture_default_str();
    command->add_option("--seconds", options->spec.seconds, "Length of one sweep, 1 to 30 s")
        ->capture_default_str();
    command->add_option("--from", options->spec.band.fromHz, "Lower end of the band in Hz")
        ->capture_default_str();
    command->add_option("--to", options->spec.band.toHz, "Upper end of the band in Hz")
        ->capture_default_str();
    command->add_option("--level", options->spec.levelDbfs, "Peak level of the file in dBFS, at most -6")
        ->capture_default_str();
    command->add_flag("--quiet", options->quiet, "Say nothing on success");
    command->callback([options, &act] { act = [options] { return writeStimulus(*options); }; });
}

}
