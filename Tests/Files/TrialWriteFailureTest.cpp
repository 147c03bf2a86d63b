// What could pass here for the wrong reason: a limit that never bites. Every case first does with room enough what it
// then has refused, and the refusal is looked for in words. Rubbish left behind: what the folders hold is compared.
// The limit is the system's on the size of a file, which ends a write in its middle as a full disk does.

#include "Files/TrialFolder.h"

#include "Support/ChildProcess.h"
#include "Support/TemporaryFolder.h"
#include "Support/TrialFolders.h"

#include <catch2/catch.hpp>
#include <csignal>
#include <map>
#include <sys/resource.h>

using namespace plumbline;
using namespace plumbline::test;
using namespace plumbline::acts;
namespace fs = std::filesystem;

namespace
{

void limitFiles(rlim_t bytes)
{
    std::signal(SIGXFSZ, SIG_IGN); // the write fails instead
    const rlimit limit{ bytes, RLIM_INFINITY };
    if (setrlimit(RLIMIT_FSIZE, &limit) != 0)
        _exit(90);
}

/** All files under a folder with their bytes, but for the lock's words. */
std::map<std::string, std::string> treeOf(const fs::path& folder)
{
    std::map<std::string, std::string> tree;
    for (const auto& entry : fs::recursive_directory_iterator(folder))
        if (entry.is_regular_file() && entry.path().filename() != TrialLock::fileName)
            tree[fs::relative(entry.path(), folder).string()] = readBytes(entry.path());
    return tree;
}

bool refusedInWords(const Problem& problem)
{
    return problem.code == "cannot-write" && problem.what.find("(") != std::string::npos &&
           !problem.remedy.empty() && !problem.where.empty();
}

struct OneTake
{
    OneTake()
    {
        auto made = TrialFolder::create(where, "t");
        id = made->add(takeOf(1, 4000)).value();
        for (int i = 0; i < 2; ++i)
            more.push_back(made->add(takeOf(2, 4000)).value());
        REQUIRE(made->act(DiscardTake{ more[0], "", {} }));
    }

    const TemporaryFolder folder;
    const fs::path where = folder / "t";
    std::string id;
    std::vector<std::string> more;
};

}

TEST_CASE("A disk that is full in the middle of a take refuses it in words and holds nothing of it")
{
    const OneTake made;
    const auto before = treeOf(made.where);
    const auto limit = GENERATE(rlim_t(0), rlim_t(100), rlim_t(4000), rlim_t(20000), rlim_t(33000));
    CAPTURE(limit);
    const auto end = runInChild(
        [&]
        {
            auto trial = TrialFolder::open(made.where);
            limitFiles(limit);
            const auto refused = trial->add(takeOf(3, 9000));
            if (refused || !refusedInWords(refused.problem()))
                return 1;
            if (trial->trial().takes.size() != 2)
                return 2;
            limitFiles(RLIM_INFINITY);
            return trial->trial() == opened(made.where) ? 0 : 3;
        });
    CHECK(end.words() == "exit 0");
    CHECK((treeOf(made.where) == before));
    auto trial = TrialFolder::open(made.where);
    REQUIRE(trial->add(takeOf(3, 9000)));
}

TEST_CASE("A disk that is full when an act is saved takes the act back, the moving of files with it")
{
    const OneTake made;
    const auto before = treeOf(made.where);
    const auto end = runInChild(
        [&]
        {
            auto trial = TrialFolder::open(made.where);
            const TrialAct wanted[] = {
                DiscardTake{ made.id, "", {} },
                RestoreTake{ made.more[0], {} },
                MoveTake{ made.id, "Heron 6, side, tweeters in", 1, "", true, true, {}, {}, {} },
                RenameTrial{ "Summer" },
                JudgeTake{ made.id, false, "A car." },
            };
            const auto content = trial->trial();
            for (const auto& act : wanted)
            {
                limitFiles(200); // the half of a trial.json
                const auto refused = trial->act(act);
                if (refused || !refusedInWords(refused.problem()) || !(trial->trial() == content))
                    return 1 + static_cast<int>(act.index());
                limitFiles(RLIM_INFINITY);
                const auto done = trial->act(act);
                if (!done || !trial->act(*done)) // there and back
                    return 50 + static_cast<int>(act.index());
            }
            return 0;
        });
    CHECK(end.words() == "exit 0");
    CHECK((treeOf(made.where) == before));
}

TEST_CASE("A trial that cannot be made, or copied, leaves nothing behind")
{
    const OneTake made;
    const auto end = runInChild(
        [&]
        {
            const auto trial = TrialFolder::open(made.where);
            limitFiles(100);
            const auto refused = TrialFolder::create(made.folder / "new", "new");
            if (refused || !refusedInWords(refused.problem()))
                return 1;
            limitFiles(20000);
            const auto copy = trial->copyTo(made.folder / "copy");
            return copy || !refusedInWords(copy.problem()) ? 2 : 0;
        });
    CHECK(end.words() == "exit 0");
    CHECK(namesIn(made.folder.path()) == std::set<std::string>{ "t" });
}
