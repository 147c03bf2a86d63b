#include "Files/TrialReading.h"

#include "Files/TrialFolder.h"

namespace plumbline
{

namespace fs = std::filesystem;

const TrialMigrations& trialMigrations()
{
    static const TrialMigrations none; // version 1 is the first
    return none;
}

namespace
{

/** The version that a value says it has; nothing if it is no trial's. */
std::optional<int> versionOf(const Json& value)
{
    const std::string stem = "plumbline/trial/";
    if (!value.is_object() || !value.contains("schema") || !value["schema"].is_string())
        return std::nullopt;
    const auto name = value["schema"].get<std::string>();
    const auto number = name.rfind(stem, 0) == 0 ? name.substr(stem.size()) : std::string();
    if (number.empty() || number.size() > 8 || number.find_first_not_of("0123456789") != std::string::npos)
        return std::nullopt;
    return std::stoi(number);
}

Result<Json> upgraded(Json value, int version, const TrialMigrations& migrations)
{
    for (; version < trialSchemaVersion; ++version)
    {
        const auto step = migrations.find(version);
        if (step == migrations.end())
            break; // the reader says so
        auto next = step->second(std::move(value));
        if (!next)
            return next;
        value = std::move(*next);
        value["schema"] = schemaName("trial", version + 1);
    }
    return value;
}

Result<TrialText> readNewer(TrialText read, const Problem& newer, const std::string& where)
{
    read.newer = newer;
    auto ours = read.json;
    ours["schema"] = schemaName("trial", trialSchemaVersion);
    auto trial = trialFromJson(ours, where);
    if (!trial)
        return newer;
    read.trial = std::move(*trial);
    return read;
}

}

Result<TrialText> readTrialText(const fs::path& folder, const TrialMigrations& migrations)
{
    constexpr std::size_t mostBytes = 64u << 20;
    const auto file = folder / "trial.json";
    auto text = readTextFile(file, mostBytes);
    if (!text)
        return text.problem();
    TrialText read;
    read.text = std::move(*text);
    try
    {
        read.json = Json::parse(read.text);
    }
    catch (const nlohmann::json::exception& error)
    {
        return Problem{ "not-json", std::string("This is not sound JSON (") + error.what() + ")",
                        file.string(), "Give the file as it was written" };
    }
    read.version = versionOf(read.json).value_or(trialSchemaVersion);
    if (read.version > trialSchemaVersion)
    {
        const auto newer = schemaFault(read.json, "trial", trialSchemaVersion, file.string());
        return readNewer(std::move(read), *newer, file.string());
    }
    auto current = upgraded(std::move(read.json), read.version, migrations);
    if (!current)
        return current.problem();
    read.json = std::move(*current);
    auto trial = trialFromJson(read.json, file.string());
    if (!trial)
        return trial.problem();
    read.trial = std::move(*trial);
    return read;
}

}
