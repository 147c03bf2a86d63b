// What could pass here for the wrong reason: a lock that is never given, or never refused. Each refusal stands beside
// the same attempt that is granted. A second holder in the same process alone: other processes are tried too, one of
// them dead. A refusal that names nobody: the holder's number is looked for.

#include "Files/TrialLock.h"

#include "Support/ChildProcess.h"
#include "Support/TemporaryFolder.h"
#include "Support/TrialFolders.h"

#include <catch2/catch.hpp>
#include <sys/stat.h>
#include <unistd.h>

using namespace plumbline;
using namespace plumbline::test;
using Catch::Matchers::Contains;
namespace fs = std::filesystem;

namespace
{

/** A child that holds a trial's lock until it is told to go, or is killed. */
class Holder
{
public:
    explicit Holder(const fs::path& folder)
    {
        int ready[2] = { -1, -1 }, go[2] = { -1, -1 };
        if (pipe(ready) != 0 || pipe(go) != 0)
            throw std::runtime_error("no pipe");
        child = fork();
        if (child == 0)
        {
            alarm(60);
            close(go[1]);
            const auto attempt = TrialLock::take(folder);
            const char word = attempt.lock ? 'y' : 'n';
            char end = 0;
            static_cast<void>(write(ready[1], &word, 1) + read(go[0], &end, 1));
            _exit(0);
        }
        close(go[0]);
        close(ready[1]);
        char word = 0;
        held = read(ready[0], &word, 1) == 1 && word == 'y';
        close(ready[0]);
        away = go[1];
    }

    void end(bool kindly)
    {
        if (!kindly)
            kill(child, SIGKILL);
        close(away);
        waitFor(child);
    }

    pid_t child = -1;
    bool held = false;

private:
    int away = -1;
};

std::string codeOf(const TrialLock::Attempt& attempt)
{
    return attempt.refusal ? attempt.refusal->code : "";
}

}

TEST_CASE("One at a time holds a trial, in one process too, and the next when that one has let go")
{
    const TemporaryFolder folder;
    {
        const auto first = TrialLock::take(folder.path());
        REQUIRE(first.lock);
        const auto second = TrialLock::take(folder.path());
        CHECK_FALSE(second.lock);
        CHECK(codeOf(second) == "trial-in-use");
        CHECK_THAT(second.refusal->sentence(), Contains("in this same program") && Contains("read only"));
    }
    CHECK(TrialLock::take(folder.path()).lock);
}

TEST_CASE("Another process that holds a trial is named, and a dead one holds nothing, however it died")
{
    const bool kindly = GENERATE(true, false);
    const TemporaryFolder folder;
    Holder holder(folder.path());
    REQUIRE(holder.held);
    const auto refused = TrialLock::take(folder.path());
    CHECK(codeOf(refused) == "trial-in-use");
    CHECK_THAT(refused.refusal->sentence(), Contains("process " + std::to_string(holder.child) + " on "));
    holder.end(kindly);
    CHECK(fs::exists(folder / TrialLock::fileName)); // the file says nothing by being there
    CHECK(TrialLock::take(folder.path()).lock);
}

TEST_CASE("A lock file that holds anything else is no harm")
{
    const TemporaryFolder folder;
    writeBytes(folder / TrialLock::fileName, std::string(10000, 'x'));
    const auto first = TrialLock::take(folder.path());
    REQUIRE(first.lock);
    CHECK_THAT(readBytes(folder / TrialLock::fileName),
               Catch::StartsWith("Plumbline ") && Contains("process "));
}

TEST_CASE("Two who open one trial: the second reads, says why, and writes when the first is gone")
{
    const TemporaryFolder folder;
    auto first = std::make_unique<TrialFolder>(TrialFolder::create(folder / "t", "t").value());
    REQUIRE(first->mayWrite());
    auto second = TrialFolder::open(folder / "t");
    REQUIRE(second);
    CHECK_FALSE(second->mayWrite());
    REQUIRE(second->report().readOnly);
    CHECK(second->report().readOnly->code == "trial-in-use");
    const auto before = readBytes(folder / "t" / "trial.json");
    CHECK(second->add(takeOf(1)).problem().code == "trial-in-use");
    CHECK(second->describe(second->trial()).problem().code == "trial-in-use");
    CHECK(second->act(acts::RenameTrial{ "x" }).problem().code == "trial-in-use");
    CHECK(readBytes(folder / "t" / "trial.json") == before);
    CHECK(namesIn(folder / "t" / "takes").empty());
    REQUIRE(first->add(takeOf(1)));
    CHECK(second->trial().takes.empty());
    REQUIRE(second->refresh());
    CHECK(second->trial() == first->trial());
    CHECK(second->startWriting().problem().code == "trial-in-use");
    first.reset();
    REQUIRE(second->startWriting());
    REQUIRE(second->add(takeOf(2)));
    CHECK(opened(folder / "t").takes.size() == 2);
}

TEST_CASE("A trial in a folder that may not be written opens read only, with the reason in words")
{
    const TemporaryFolder folder;
    REQUIRE(TrialFolder::create(folder / "t", "t")->add(takeOf(1)));
    REQUIRE(chmod(folder.path().c_str(), 0755) == 0);
    REQUIRE(chmod((folder / "t").c_str(), 0555) == 0);
    REQUIRE(chmod((folder / "t" / "trial.lock").c_str(), 0444) == 0);
    const auto end = runInChild(
        [&]
        {
            if (getuid() == 0 && setuid(65534) != 0)
                return 1;
            auto trial = TrialFolder::open(folder / "t");
            if (!trial || trial->mayWrite() || trial->trial().takes.size() != 1)
                return 2;
            if (trial->report().readOnly->code != "read-only-folder" ||
                trial->report().readOnly->what.find("ermission") == std::string::npos)
                return 3;
            if (trial->add(takeOf(2)).problem().code != "read-only-folder")
                return 4;
            if (trial->summaries().takes.size() != 1)
                return 5;
            const auto copy = trial->copyTo(folder / "copy"); // nor can be written there
            return copy ? 6 : 0;
        });
    CHECK(end.words() == "exit 0");
    REQUIRE(chmod((folder / "t").c_str(), 0755) == 0);
    REQUIRE(chmod((folder / "t" / "trial.lock").c_str(), 0644) == 0);
    auto again = TrialFolder::open(folder / "t");
    CHECK(again->mayWrite());
    CHECK(namesIn(folder / "t") == std::set<std::string>{ "trial.json", "trial.lock", "takes" });
}
