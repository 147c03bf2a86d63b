#include "Files/UserSettings.h"

#include "Files/AnalysisFile.h"
#include "Files/AtomicFile.h"
#include "Files/Json.h"
#include "Files/UserFolder.h"

namespace plumbline
{

namespace fs = std::filesystem;

namespace
{

fs::path settingsFile()
{
    return userSettingsFolder() / "settings.json";
}

std::vector<std::string> textsOf(const Json& list)
{
    constexpr std::size_t most = 10;
    std::vector<std::string> texts;
    for (const auto& item : list)
        if (item.is_string() && texts.size() < most)
            texts.push_back(item.get<std::string>());
    return texts;
}

Json toJson(const UserSettings& settings)
{
    return { { "schema", schemaName("settings", settingsSchemaVersion) },
             { "careReadAt", settings.careReadAt },
             { "hostMayStart", settings.hostMayStart },
             { "trialsFolder", settings.trialsFolder },
             { "recentTrials", settings.recentTrials },
             { "appearance",
               { { "dark", settings.dark },
                 { "scalePercent", settings.scalePercent },
                 { "reduceMotion", settings.reduceMotion } } } };
}

}

Result<UserSettings> readUserSettings()
{
    std::error_code error;
    const auto file = settingsFile();
    if (!fs::exists(file, error))
        return UserSettings{};
    const auto value = readJsonFile(file, "settings", settingsSchemaVersion);
    if (!value)
        return value.problem();
    JsonFields fields(*value, file.string());
    UserSettings settings;
    settings.careReadAt = fields.textOr("careReadAt", "");
    settings.hostMayStart = fields.flagOr("hostMayStart", false);
    settings.trialsFolder = fields.textOr("trialsFolder", "");
    settings.recentTrials = textsOf(fields.member("recentTrials", false));
    const Json nothing = Json::object();
    JsonFields look(fields.has("appearance") ? fields.member("appearance") : nothing,
                    file.string() + ", appearance");
    settings.dark = look.flagOr("dark", true);
    settings.scalePercent = static_cast<int>(look.numberOr("scalePercent", 100.0, 100.0, 250.0));
    settings.reduceMotion = look.flagOr("reduceMotion", false);
    for (const auto* read : { &fields, &look })
        if (read->fault())
            return *read->fault();
    return settings;
}

Outcome writeUserSettings(const UserSettings& settings)
{
    std::error_code error;
    const auto file = settingsFile();
    fs::create_directories(file.parent_path(), error);
    if (!readUserSettings())
        fs::rename(file, file.string() + ".set-aside", error);
    return writeFileWhole(file, toText(toJson(settings)));
}

}
