// What could pass here for the wrong reason: a process that was killed when it had nothing in hand. The child
// does nothing but add takes, and what its death left half done is counted. A take that is named and not
// whole: after each death the folder is opened anew, and all three files of every take are read.

#include "Files/TrialFolder.h"

#include "Dsp/Random.h"
#include "Support/ChildProcess.h"
#include "Support/Killing.h"
#include "Support/TemporaryFolder.h"
#include "Support/TrialFolders.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <csignal>

using namespace plumbline;
using namespace plumbline::test;
namespace fs = std::filesystem;

namespace
{

struct KillCount
{
    std::size_t midTake = 0, namedAtEnd = 0;
};

/** Makes a trial of four takes and gives it up for others to write. */
double secondsOfOneTake(const fs::path& folder)
{
    auto made = TrialFolder::create(folder, "t");
    const double began = secondsNow();
    for (std::uint64_t n = 0; n < 4; ++n)
        REQUIRE(made->add(takeOf(n, 20000)));
    return (secondsNow() - began) / 4.0;
}

KillCount killWhileAdding(const fs::path& folder, int times)
{
    const double oneTake = secondsOfOneTake(folder);
    Random random(99);
    auto before = opened(folder).takes;
    for (int i = 0; i < times; ++i)
    {
        const long microseconds = 1 + static_cast<long>(random.uniform() * 3e6 * oneTake);
        const auto end = runInChild(
            [&]
            {
                auto trial = TrialFolder::open(folder);
                dieIn(microseconds);
                for (std::uint64_t n = 0;; ++n)
                    if (!trial->add(takeOf(n, 20000)))
                        return 1;
            });
        INFO("kill " << i << " after " << microseconds << " us");
        REQUIRE(end.signal == SIGKILL);
        const auto after = opened(folder).takes;
        REQUIRE(after.size() >= before.size());
        CHECK(std::equal(before.begin(), before.end(), after.begin()));
        for (const auto& take : after)
            CHECK(faultOfTake(folder, take) == "");
        before = after;
    }
    return { namesIn(folder / "takes").size() - before.size(), before.size() };
}

}

TEST_CASE("A process killed while it adds takes leaves a trial that names only takes that are whole")
{
    const TemporaryFolder folder;
    const auto count = killWhileAdding(folder / "t", 30);
    CHECK(count.midTake > 5); // otherwise nothing was tried
    CHECK(count.namedAtEnd > 4);
    auto trial = TrialFolder::open(folder / "t");
    REQUIRE(trial);
    CHECK(trial->add(takeOf(1)));
}

TEST_CASE("A process killed three hundred times while it adds takes leaves a whole trial", "[.long]")
{
    const TemporaryFolder folder;
    CHECK(killWhileAdding(folder / "t", 300).midTake > 50);
}
