#include "Entry/StandaloneSettings.h"

#include "Files/AnalysisFile.h"
#include "Files/AtomicFile.h"
#include "Files/Json.h"

#include <juce_core/juce_core.h>

namespace plumbline
{

namespace fs = std::filesystem;

namespace
{
constexpr int standaloneSchemaVersion = 1;
constexpr const char* kind = "standalone";

std::string encoded(const std::string& bytes)
{
    return juce::Base64::toBase64(bytes.data(), bytes.size()).toStdString();
}

std::optional<std::string> decoded(const std::string& text)
{
    juce::MemoryOutputStream bytes;
    if (!juce::Base64::convertFromBase64(bytes, text))
        return std::nullopt;
    return std::string(static_cast<const char*>(bytes.getData()), bytes.getDataSize());
}

Result<StandaloneSettings> settingsFrom(const fs::path& file)
{
    const auto value = readJsonFile(file, kind, standaloneSchemaVersion);
    if (!value)
        return value.problem();
    JsonFields fields(*value, file.string());
    StandaloneSettings settings;
    const auto state = decoded(fields.textOr("processorState", ""));
    if (!state)
        fields.complain("\"processorState\" is not base64");
    settings.processorState = state.value_or("");
    settings.audioDevice = fields.textOr("audioDevice", "");
    settings.window = fields.textOr("window", "");
    if (fields.fault())
        return *fields.fault();
    return settings;
}

/** A name beside `file` that is free: "standalone-unread.json", "standalone-unread-2.json", ... */
fs::path freeNameBeside(const fs::path& file)
{
    const auto stem = file.stem().string() + "-unread";
    std::error_code error;
    fs::path name = file.parent_path() / (stem + file.extension().string());
    for (int n = 2; fs::exists(fs::symlink_status(name, error)); ++n)
        name = file.parent_path() / (stem + "-" + std::to_string(n) + file.extension().string());
    return name;
}

Problem putAside(const fs::path& file, const Problem& why)
{
    const auto kept = freeNameBeside(file);
    const std::string what = why.code == "future-schema" ? "The settings are those of a newer Plumbline"
                                                         : "The settings could not be read";
    std::error_code error;
    fs::rename(file, kept, error);
    if (error)
        return { "settings-unread", what + ", nor put aside", file.string(),
                 "Move the file away before you close Plumbline, or it will be written over" };
    return { "settings-unread", what + " and were put aside", kept.string(),
             "Plumbline begins with its defaults; choose the audio device anew" };
}
}

FoundSettings readStandaloneSettings(const fs::path& file)
{
    std::error_code error;
    if (!fs::exists(fs::symlink_status(file, error)))
        return {};
    auto settings = settingsFrom(file);
    if (!settings)
        return { {}, putAside(file, settings.problem()) };
    return { std::move(*settings), std::nullopt };
}

Outcome writeStandaloneSettings(const fs::path& file, const StandaloneSettings& settings)
{
    std::error_code error;
    fs::create_directories(file.parent_path(), error);
    const Json value{ { "schema", schemaName(kind, standaloneSchemaVersion) },
                      { "processorState", encoded(settings.processorState) },
                      { "audioDevice", settings.audioDevice },
                      { "window", settings.window } };
    return writeFileWhole(file, toText(value));
}

}
