// What could pass here for the wrong reason: a write that fails early, before there is anything to leave
// behind. The disk is made full at several places of the writing, and what lies in the folder is listed
// every time. Rights mean nothing to root: the child process that tries them gives its own up first.

#include "Files/AtomicFile.h"

#include "Support/ChildProcess.h"
#include "Support/TemporaryFolder.h"

#include <catch2/catch.hpp>
#include <sys/resource.h>

using namespace plumbline;
using namespace plumbline::test;
using Catch::Matchers::Contains;
namespace fs = std::filesystem;

namespace
{

using Names = std::set<std::string>;

const NewFolder::Known known{ "analysis.json", "plumbline/analysis/", { "analysis.json", "response.csv" } };

/** A folder as this program writes it. */
void writeOurs(const fs::path& folder, const std::string& version = "1")
{
    fs::create_directories(folder);
    writeBytes(folder / "analysis.json", R"({"schema": "plumbline/analysis/)" + version + "\"}");
    writeBytes(folder / "response.csv", "old");
}

/** Code of the refusal; "begun" if there is none. */
std::string refusal(const fs::path& wanted, bool replace)
{
    const auto folder = NewFolder::begin(wanted, known, replace);
    if (folder)
        return "begun";
    CHECK(folder.problem().where == (wanted.has_filename() ? wanted : wanted.parent_path()).string());
    CHECK_FALSE(folder.problem().remedy.empty());
    return folder.problem().code;
}

/** Runs `act` as a user who may do nothing in other people's folders. */
ChildEnd asNobody(const std::function<int()>& act)
{
    return runInChild([&] { return geteuid() == 0 && seteuid(65534) != 0 ? 77 : act(); });
}

/** For everybody to enter and see, for nobody else to write. */
void makeReadOnly(const fs::path& folder)
{
    fs::permissions(folder, fs::perms(0555));
}

}

TEST_CASE("A file is written whole, with every byte, and nothing is left beside it")
{
    const TemporaryFolder folder;
    std::string bytes;
    for (int i = 0; i < 300000; ++i)
        bytes += static_cast<char>(i * i);
    for (const std::size_t length : { 0u, 1u, 16383u, 16384u, 16385u, 300000u })
    {
        REQUIRE(writeFileWhole(folder / "a.json", bytes.substr(0, length)));
        CHECK(readBytes(folder / "a.json") == bytes.substr(0, length));
        CHECK(namesIn(folder.path()) == Names{ "a.json" });
    }
}

TEST_CASE("Names with blanks, points and letters beyond ASCII are written as they are")
{
    const TemporaryFolder folder;
    for (const char* name : { "my take.json", ".hidden", "Höhe é.json", "~", "a\\b", "%20" })
    {
        INFO(name);
        REQUIRE(writeFileWhole(folder / name, "x"));
        CHECK(namesIn(folder.path()).contains(name));
    }
    CHECK(namesIn(folder.path()).size() == 6);
}

TEST_CASE("A folder of the same name, no folder at all and a file in the folder's place are refused")
{
    const TemporaryFolder folder;
    fs::create_directory(folder / "taken");
    writeBytes(folder / "file", "keep");
    const auto taken = writeFileWhole(folder / "taken", "x");
    REQUIRE_FALSE(taken);
    CHECK(taken.problem().code == "is-a-folder");
    for (const auto& target :
         { folder / "none" / "a.json", folder / "file" / "a.json", fs::path("/proc/plumbline.json") })
    {
        const auto outcome = writeFileWhole(target, "x");
        INFO(target.string());
        REQUIRE_FALSE(outcome);
        CHECK(outcome.problem().code == "cannot-write");
        CHECK(outcome.problem().where == target.string());
        CHECK_FALSE(outcome.problem().remedy.empty());
    }
    CHECK(readBytes(folder / "file") == "keep");
    CHECK(namesIn(folder.path()) == Names{ "taken", "file" });
    CHECK(namesIn(folder / "taken").empty());
}

TEST_CASE("A folder that may not be written is refused in words, and keeps what it holds")
{
    const TemporaryFolder folder;
    const auto locked = folder / "locked";
    writeOurs(locked);
    makeReadOnly(locked);
    makeReadOnly(folder.path());
    const auto end = asNobody(
        [&]
        {
            const auto outcome = writeFileWhole(locked / "analysis.json", "new");
            if (outcome || outcome.problem().code != "cannot-write")
                return 1;
            if (NewFolder::begin(folder / "wanted", known, false) ||
                NewFolder::begin(locked / "a" / "b", known, false))
                return 2;
            auto replacement = NewFolder::begin(locked, known, true);
            return replacement || replacement.problem().code != "cannot-write" ? 3 : 0;
        });
    CHECK(end.words() == "exit 0");
    CHECK(namesIn(folder.path()) == Names{ "locked" });
    CHECK(namesIn(locked) == Names{ "analysis.json", "response.csv" });
    CHECK_THAT(readBytes(locked / "analysis.json"), Contains("plumbline/analysis/1"));
}

TEST_CASE("On a full disk nothing is half-written: what was there stays, and no temporary file")
{
    for (const std::size_t length : { 1000u, 16000u, 200000u })
        for (const rlim_t room : { 0u, 1u, 999u, 8192u, 15999u, 16384u, 100000u, 199999u })
        {
            if (room >= length)
                continue;
            const TemporaryFolder folder;
            writeBytes(folder / "old.json", "old");
            const auto end = runInChild(
                [&]
                {
                    std::signal(SIGXFSZ, SIG_IGN);
                    const rlimit limit{ room, room };
                    if (setrlimit(RLIMIT_FSIZE, &limit) != 0)
                        return 2;
                    const auto fresh = writeFileWhole(folder / "new.json", std::string(length, 'x'));
                    const auto over = writeFileWhole(folder / "old.json", std::string(length, 'x'));
                    if (fresh || over)
                        return 1;
                    return fresh.problem().code == "cannot-write" && over.problem().code == "cannot-write"
                               ? 0
                               : 3;
                });
            INFO(length << " bytes where there is room for " << room);
            CHECK(end.words() == "exit 0");
            CHECK(readBytes(folder / "old.json").substr(0, 10) == "old");
            CHECK(namesIn(folder.path()) == Names{ "old.json" });
        }
}

TEST_CASE("A file of exactly the room there is is written")
{
    const TemporaryFolder folder;
    const auto end = runInChild(
        [&]
        {
            std::signal(SIGXFSZ, SIG_IGN);
            const rlimit limit{ 1000, 1000 };
            return setrlimit(RLIMIT_FSIZE, &limit) == 0 &&
                           writeFileWhole(folder / "a", std::string(1000, 'x'))
                       ? 0
                       : 1;
        });
    CHECK(end.words() == "exit 0");
    CHECK(readBytes(folder / "a").size() == 1000);
}

TEST_CASE("A new folder appears with all its files on commit, and not before")
{
    const TemporaryFolder folder;
    for (const auto& wanted :
         { folder / "out", folder / "deep" / "er" / "out", fs::path((folder / "slash").string() + "/"),
           fs::path((folder / "slashes").string() + "//") })
    {
        INFO(wanted.string());
        auto made = NewFolder::begin(wanted, known, false);
        REQUIRE(made);
        CHECK(made->path().parent_path() ==
              (wanted.has_filename() ? wanted : wanted.parent_path()).parent_path());
        writeBytes(made->path() / "analysis.json", "{}");
        CHECK_FALSE(fs::exists(wanted));
        REQUIRE(made->commit());
        CHECK(namesIn(wanted) == Names{ "analysis.json" });
    }
    CHECK(namesIn(folder.path()) == Names{ "out", "deep", "slash", "slashes" });
    CHECK(namesIn(folder / "deep" / "er") == Names{ "out" });
}

TEST_CASE("Without commit a new folder leaves nothing, and what was to be replaced stays")
{
    const TemporaryFolder folder;
    writeOurs(folder / "old");
    for (const char* name : { "out", "old" })
    {
        auto made = NewFolder::begin(folder / name, known, true);
        REQUIRE(made);
        fs::create_directories(made->path() / "takes" / "a");
        writeBytes(made->path() / "takes" / "a" / "b", "x");
    }
    CHECK(namesIn(folder.path()) == Names{ "old" });
    CHECK(namesIn(folder / "old") == Names{ "analysis.json", "response.csv" });
    CHECK(readBytes(folder / "old" / "response.csv") == "old");
}

TEST_CASE("Without commit the folders above that were made for it are removed too")
{
    const TemporaryFolder folder;
    fs::create_directory(folder / "mine");
    static_cast<void>(NewFolder::begin(folder / "mine" / "deep" / "out", known, false).ok());
    CHECK(namesIn(folder.path()) == Names{ "mine" });
    CHECK(namesIn(folder / "mine").empty());
}

TEST_CASE("A moved new folder is committed or removed once, by the one that holds it")
{
    const TemporaryFolder folder;
    {
        auto first = NewFolder::begin(folder / "out", known, false);
        REQUIRE(first);
        NewFolder second(std::move(*first));
        CHECK(first->path().empty());
        writeBytes(second.path() / "analysis.json", "{}");
        REQUIRE(second.commit());
    }
    CHECK(namesIn(folder / "out") == Names{ "analysis.json" });
}

TEST_CASE("What is there already is not touched unless replacing is asked")
{
    const TemporaryFolder folder;
    writeOurs(folder / "ours");
    fs::create_directory(folder / "empty");
    writeBytes(folder / "file", "keep");
    for (const char* name : { "ours", "empty", "file", "ours/" })
        CHECK(refusal(folder / name, false) == "exists");
    CHECK(namesIn(folder.path()) == Names{ "ours", "empty", "file" });
}

TEST_CASE("Only a folder that this program wrote is replaced, and then all of it")
{
    const TemporaryFolder folder;
    for (const char* name : { "ours", "slash/" })
    {
        writeOurs(folder / name, "2"); // of any version
        auto made = NewFolder::begin(folder / name, known, true);
        REQUIRE(made);
        writeBytes(made->path() / "analysis.json", "new");
        CHECK(readBytes(folder / name / "response.csv") == "old"); // until the very end
        REQUIRE(made->commit());
        CHECK(namesIn(folder / name) == Names{ "analysis.json" });
        CHECK(readBytes(folder / name / "analysis.json") == "new");
    }
    CHECK(namesIn(folder.path()) == Names{ "ours", "slash" });
}

TEST_CASE("A folder with another main file, another schema or a foreign file in it is not replaced")
{
    const TemporaryFolder folder;
    const std::pair<const char*, std::function<void(const fs::path&)>> rows[] = {
        { "empty", [](const fs::path& f) { fs::create_directories(f); } },
        { "no main file", [](const fs::path& f) { fs::remove(f / "analysis.json"); } },
        { "not JSON", [](const fs::path& f) { writeBytes(f / "analysis.json", "x"); } },
        { "no object", [](const fs::path& f) { writeBytes(f / "analysis.json", "[5]"); } },
        { "no schema", [](const fs::path& f) { writeBytes(f / "analysis.json", "{}"); } },
        { "another schema",
          [](const fs::path& f) { writeBytes(f / "analysis.json", R"({"schema": "plumbline/trial/1"})"); } },
        { "a number for a schema",
          [](const fs::path& f) { writeBytes(f / "analysis.json", R"({"schema": 1})"); } },
        { "a folder for a main file",
          [](const fs::path& f)
          {
              fs::remove(f / "analysis.json");
              fs::create_directory(f / "analysis.json");
          } },
        { "a foreign file", [](const fs::path& f) { writeBytes(f / "mix.wav", "keep"); } },
        { "a foreign hidden file", [](const fs::path& f) { writeBytes(f / ".notes", "keep"); } },
        { "a foreign folder", [](const fs::path& f) { fs::create_directory(f / "photographs"); } },
    };
    for (const auto& [name, spoil] : rows)
    {
        const auto wanted = folder / name;
        if (std::string(name) != "empty")
            writeOurs(wanted);
        spoil(wanted);
        const auto before = namesIn(wanted);
        INFO(name);
        CHECK(refusal(wanted, true) == "exists");
        CHECK(namesIn(wanted) == before);
    }
    writeBytes(folder / "file", "keep");
    CHECK(refusal(folder / "file", true) == "exists");
    writeOurs(folder / "named");
    writeBytes(folder / "named" / "mix.wav", "keep");
    CHECK_THAT(NewFolder::begin(folder / "named", known, true).problem().sentence(), Contains("\"mix.wav\""));
    for (const auto& name : namesIn(folder.path()))
        CHECK_THAT(name, !Contains("unfinished"));
}

TEST_CASE("A foreign file deeper inside keeps a folder from being replaced too")
{
    const TemporaryFolder folder;
    const NewFolder::Known trial{ "trial.json", "plumbline/trial/", { "trial.json", "takes" } };
    fs::create_directories(folder / "t" / "takes");
    writeBytes(folder / "t" / "trial.json", R"({"schema": "plumbline/trial/1"})");
    writeBytes(folder / "t" / "takes" / "my notes.txt", "keep");
    CHECK_FALSE(NewFolder::begin(folder / "t", trial, true));
}

TEST_CASE("A folder that may be entered but not listed is refused in words")
{
    const TemporaryFolder folder;
    const auto ours = folder / "ours";
    writeOurs(ours);
    fs::permissions(ours, fs::perms(0711));
    fs::permissions(folder.path(), fs::perms(0777));
    const auto end = asNobody([&] { return NewFolder::begin(ours, known, true) ? 1 : 0; });
    CHECK(end.words() == "exit 0");
}

TEST_CASE(
    "If something takes the name before the commit, it stays or is replaced, and nothing is left beside")
{
    const TemporaryFolder folder;
    auto made = NewFolder::begin(folder / "out", known, false);
    REQUIRE(made);
    writeBytes(made->path() / "analysis.json", "new");
    fs::create_directory(folder / "out");
    writeBytes(folder / "out" / "theirs", "keep");
    CHECK_FALSE(made->commit());
    CHECK(readBytes(folder / "out" / "theirs") == "keep");
}
