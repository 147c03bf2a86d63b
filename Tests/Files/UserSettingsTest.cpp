// What could pass here for the wrong reason: settings that are the defaults. Every value is changed from its default
// before it is written.

#include "Files/UserSettings.h"

#include "Files/UserFolder.h"
#include "Support/TemporarySettings.h"

#include <catch2/catch.hpp>

using namespace plumbline;
using namespace plumbline::test;

namespace
{
UserSettings changed()
{
    return { "2026-03-01T10:00:00+01:00", true, "/trials/here", { "/a \"b\"", "/c" }, false, 175, true };
}

/** Settings in a folder of their own, with no file yet. */
struct NoSettings
{
    NoSettings() { std::filesystem::remove(file()); }

    std::filesystem::path file() const { return settings.path() / "settings.json"; }

    TemporarySettings settings;
};
}

TEST_CASE("Without a file the settings are the defaults, and reading makes none")
{
    const NoSettings none;
    const auto read = readUserSettings();
    REQUIRE(read);
    CHECK(*read == UserSettings{});
    CHECK(read->careReadAt.empty());
    CHECK_FALSE(read->hostMayStart);
    CHECK(namesIn(none.settings.path()).empty());
}

TEST_CASE("What is written is read back, and says its schema first")
{
    const NoSettings none;
    REQUIRE(writeUserSettings(changed()));
    CHECK(readUserSettings().value() == changed());
    CHECK(readBytes(none.file()).rfind("{\n  \"schema\": \"plumbline/settings/1\"", 0) == 0);
    CHECK(namesIn(none.settings.path()) == std::set<std::string>{ "settings.json" });
}

TEST_CASE("The folder is the one that the environment names, and is made when it is needed")
{
    const NoSettings none;
    const auto deep = none.settings.path() / "a" / "b";
    setenv("PLUMBLINE_SETTINGS", deep.string().c_str(), 1);
    CHECK(userSettingsFolder() == deep);
    REQUIRE(readUserSettings());
    CHECK_FALSE(std::filesystem::exists(deep));
    REQUIRE(writeUserSettings(changed()));
    CHECK(readUserSettings().value() == changed());
}

TEST_CASE("Damaged settings, those of the wrong kind and newer ones are refused by name")
{
    const NoSettings none;
    const std::pair<const char*, const char*> rows[] = {
        { "{", "not-json" },
        { "[]", "no-schema" },
        { R"({"schema":"plumbline/trial/1"})", "other-schema" },
        { R"({"schema":"plumbline/settings/2"})", "future-schema" },
        { R"({"schema":"plumbline/settings/1","careReadAt":true})", "damaged" },
        { R"({"schema":"plumbline/settings/1","hostMayStart":"yes"})", "damaged" },
        { R"({"schema":"plumbline/settings/1","appearance":{"scalePercent":99}})", "damaged" },
        { R"({"schema":"plumbline/settings/1","appearance":{"dark":1}})", "damaged" },
        { R"({"schema":"plumbline/settings/1","appearance":7})", "damaged" },
    };
    for (const auto& [text, code] : rows)
    {
        INFO(text);
        writeBytes(none.file(), text);
        const auto read = readUserSettings();
        REQUIRE_FALSE(read);
        CHECK(read.problem().code == code);
        CHECK_THAT(read.problem().where, Catch::Contains("settings.json"));
        // Kept beside when the settings are written.
        REQUIRE(writeUserSettings(changed()));
        CHECK(readBytes(none.file().string() + ".set-aside") == text);
        CHECK(readUserSettings().value() == changed());
    }
    // Sound ones are not set aside (negative control).
    std::filesystem::remove(none.file().string() + ".set-aside");
    REQUIRE(writeUserSettings({}));
    CHECK(namesIn(none.settings.path()) == std::set<std::string>{ "settings.json" });
}

TEST_CASE("What is missing has its default, and of recent trials ten are read, texts alone")
{
    const NoSettings none;
    writeBytes(none.file(), R"({"schema":"plumbline/settings/1","appearance":{"dark":false}})");
    auto read = readUserSettings();
    REQUIRE(read);
    CHECK_FALSE(read->dark);
    CHECK(read->scalePercent == 100);
    writeBytes(none.file(), R"({"schema":"plumbline/settings/1","recentTrials":
        [1,"a",null,"b","c","d","e","f","g","h","i","j","k","l"]})");
    read = readUserSettings();
    REQUIRE(read);
    CHECK(read->recentTrials == std::vector<std::string>{ "a", "b", "c", "d", "e", "f", "g", "h", "i", "j" });
}

TEST_CASE("Settings that cannot be written say so, and leave what is there")
{
    const NoSettings none;
    writeBytes(none.file(), "in the way");
    setenv("PLUMBLINE_SETTINGS", none.file().string().c_str(), 1);
    const auto written = writeUserSettings(changed());
    REQUIRE_FALSE(written);
    CHECK_THAT(written.problem().sentence(), Catch::EndsWith("."));
    CHECK(readBytes(none.file()) == "in the way");
}
