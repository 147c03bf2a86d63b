// What could pass here for the wrong reason: settings that are never read and come out as their defaults. So what is
// kept differs from every default, and damage is done to a file that was seen to be read before.
#include "Entry/StandaloneSettings.h"
#include "Support/TemporaryFolder.h"

#include <catch2/catch.hpp>

using namespace plumbline;
using plumbline::test::namesIn;
using plumbline::test::readBytes;
using plumbline::test::TemporaryFolder;
using plumbline::test::writeBytes;

namespace
{

StandaloneSettings someSettings()
{
    std::string state = "{\"schema\": \"any\"}";
    state.push_back('\0');
    state.push_back('\xff');
    return { state, "<DEVICESETUP deviceType=\"JACK\" audioOutputDeviceName=\"Größe\"/>", "10 20 1200 760" };
}

}

TEST_CASE("What our application keeps comes back byte for byte, and the folder is made for it")
{
    TemporaryFolder folder;
    const auto file = folder / "deep" / "er" / "standalone.json";
    REQUIRE(writeStandaloneSettings(file, someSettings()));
    const auto found = readStandaloneSettings(file);
    CHECK_FALSE(found.problem);
    CHECK(found.settings == someSettings());
    CHECK(namesIn(file.parent_path()) == std::set<std::string>{ "standalone.json" });
}

TEST_CASE("Without a file the application begins with its defaults and says nothing")
{
    TemporaryFolder folder;
    const auto found = readStandaloneSettings(folder / "standalone.json");
    CHECK_FALSE(found.problem);
    CHECK(found.settings == StandaloneSettings{});
}

TEST_CASE("Settings that cannot be read are kept under another name, and that is said")
{
    TemporaryFolder folder;
    const auto file = folder / "standalone.json";
    const auto damaged =
        GENERATE(as<std::string>{}, "", "{", "[]", "null", "{\"schema\": \"plumbline/standalone/1\"",
                 "{\"schema\": \"plumbline/standalone/2\"}", "{\"schema\": \"plumbline/trial/1\"}",
                 "{\"schema\": \"plumbline/standalone/1\", \"processorState\": \"?\"}",
                 "{\"schema\": \"plumbline/standalone/1\", \"window\": 7}");
    writeBytes(file, damaged);
    const auto found = readStandaloneSettings(file);
    REQUIRE(found.problem);
    CHECK(found.settings == StandaloneSettings{});
    CHECK(found.problem->where == (folder / "standalone-unread.json").string());
    CHECK(readBytes(folder / "standalone-unread.json") == damaged);
    CHECK_FALSE(std::filesystem::exists(file));
}

TEST_CASE("Settings put aside do not write over those that were put aside before")
{
    TemporaryFolder folder;
    const auto file = folder / "standalone.json";
    for (const auto* text : { "first", "second", "third" })
    {
        writeBytes(file, text);
        CHECK(readStandaloneSettings(file).problem);
    }
    CHECK(readBytes(folder / "standalone-unread.json") == "first");
    CHECK(readBytes(folder / "standalone-unread-2.json") == "second");
    CHECK(readBytes(folder / "standalone-unread-3.json") == "third");
}

TEST_CASE("A settings folder that cannot be written is a problem in words, not a crash")
{
    TemporaryFolder folder;
    writeBytes(folder / "file", "x");
    const auto written = writeStandaloneSettings(folder / "file" / "standalone.json", someSettings());
    REQUIRE_FALSE(written);
    CHECK_FALSE(written.problem().what.empty());
}
