// What could pass here for the wrong reason: an instance that finds the trial again because it never left it. Each
// state is given to a new instance, and files that must not be touched are looked for on the disk.

#include "Support/SessionHost.h"

#include "Dsp/Random.h"
#include "Files/Json.h"

#include <catch2/catch.hpp>

using namespace plumbline;
using test::newestOf;
using test::SessionHost;
using test::TemporaryFolder;
using test::TemporarySettings;
namespace fs = std::filesystem;

namespace
{
constexpr auto heron = "Heron 6, upright";
constexpr std::size_t mostBytes = 256u << 10;

/** The state of an instance with a take in a trial, standing for the second time, practising. */
struct Worked
{
    Worked()
    {
        SessionHost host;
        host.beginReady();
        host.take();
        host.session().standAgain();
        host.session().usePracticeRoom(true);
        host.step();
        state = host.state();
        folder = host.view()->trial.folder;
        id = host.view()->trial.trial->id;
    }

    std::string state, folder, id;
};
}

TEST_CASE("Trial, stance, set-up and practice room come back with the session's state")
{
    const TemporarySettings settings;
    const Worked worked;
    CHECK(worked.state.size() < mostBytes);
    SessionHost host;
    bool stateFirst = GENERATE(true, false);
    if (!stateFirst)
        host.session().begin();
    host.restore(worked.state);
    if (stateFirst)
        host.session().begin();
    host.step();
    const auto view = host.view();
    CHECK(view->trial.place == TrialView::Place::folder);
    CHECK(view->trial.folder == worked.folder);
    CHECK(view->trial.trial->id == worked.id);
    CHECK(view->trial.hereNow == heron);
    CHECK(view->trial.hereSetUp == 2);
    CHECK(view->practiceRoom);
    CHECK(view->messages.empty());
    const auto curves = newestOf(*view, heron);
    REQUIRE(curves);
    CHECK(curves->left.levelDb[240] == Approx(0.0).margin(0.05));
    CHECK(host.state() == worked.state);
}

TEST_CASE("A state asked for right after it was given is the given one, before anything was done")
{
    const TemporarySettings settings;
    const Worked worked;
    SessionHost host;
    host.restore(worked.state);
    CHECK(host.state() == worked.state);
    host.session().begin();
    host.step();
    CHECK(host.state() == worked.state);
    // Without it, it is another (negative control).
    SessionHost other;
    CHECK(other.state() != worked.state);
}

TEST_CASE("A state without a trial closes the trial that was open")
{
    const TemporarySettings settings;
    const auto fresh = SessionHost().state();
    const Worked worked;
    SessionHost host;
    host.session().begin();
    host.restore(worked.state);
    host.step();
    REQUIRE(host.view()->trial.folder == worked.folder);
    host.restore(fresh);
    CHECK(host.state() == fresh);
    host.step();
    CHECK(host.state() == fresh);
    CHECK(host.view()->trial.place == TrialView::Place::unnamed);
    CHECK_FALSE(host.view()->practiceRoom);
}

TEST_CASE("A trial that is not there is said to be missing, and the state still names it")
{
    const TemporarySettings settings;
    const Worked worked;
    fs::rename(worked.folder, worked.folder + " moved");
    SessionHost host;
    host.session().begin();
    host.restore(worked.state);
    host.step();
    CHECK(host.view()->trial.place == TrialView::Place::missing);
    CHECK(host.view()->trial.folder == worked.folder);
    CHECK(host.says("trial-missing"));
    CHECK(host.state() == worked.state);
    host.session().openTrial(worked.folder + " moved");
    host.step();
    CHECK(host.view()->trial.place == TrialView::Place::folder);
    CHECK(host.view()->trial.trial->id == worked.id);
    CHECK(host.codes().empty());
}

TEST_CASE(
    "What cannot be read gives defaults, is said, and is kept byte for byte through saving and restoring")
{
    const TemporarySettings settings;
    const Worked worked;
    std::string bytes(70000, '\0'); // every byte there is, noughts and broken UTF-8 among them
    Random random(5);
    for (auto& byte : bytes)
        byte = static_cast<char>(random.bits());
    const std::pair<const char*, std::string> rows[] = {
        { "cut", worked.state.substr(0, worked.state.size() / 2) },
        { "newer",
          R"({"schema":"plumbline/host-state/2","levelDbfs":-30,"trial":{"id":"a","folder":"/b"}})" },
        { "foreign", R"({"schema":"another/thing/1"})" },
        { "noise", bytes },
        { "a trial without a folder", R"({"schema":"plumbline/host-state/1","trial":{"id":"a"}})" },
        { "140 kB", std::string(140000, 'x') },
    };
    for (const auto& [name, text] : rows)
    {
        INFO(name);
        SessionHost host;
        host.session().begin();
        host.restore(text);
        const auto at = host.state();
        host.step();
        CHECK(host.says("state-damaged"));
        CHECK(host.view()->trial.place == TrialView::Place::unnamed);
        CHECK(host.view()->plan == TakePlan{});
        CHECK(host.processor.session().state().setAside == text);
        auto saved = host.state();
        CHECK(saved == at);
        for (int i = 0; i < 3; ++i)
        {
            CHECK(saved.size() < mostBytes);
            SessionHost next;
            next.session().begin();
            next.restore(saved);
            next.step();
            CHECK(next.processor.session().state().setAside == text);
            CHECK(next.view()->messages.empty()); // it was said once
            saved = next.state();
        }
        CHECK(saved == at);
    }
}

TEST_CASE("What is set aside stays when the session goes on to work, and a sound state is not set aside")
{
    const TemporarySettings settings;
    SessionHost host;
    host.restore("{ not ours");
    host.beginReady();
    host.take();
    const auto view = host.view();
    CHECK(view->trial.trial->takes.size() == 1);
    CHECK(host.session().state().setAside == "{ not ours");
    const Worked worked;
    SessionHost sound;
    sound.restore(worked.state);
    sound.session().begin();
    sound.step();
    CHECK(sound.session().state().setAside.empty());
}

TEST_CASE("A state too large to be kept is said, and the whole stays within its bounds")
{
    const TemporarySettings settings;
    for (const std::size_t size : { 160000u, 300000u, 5000000u })
    {
        INFO(size);
        SessionHost host;
        host.session().begin();
        const std::string text(size, 'x');
        host.restore(text);
        host.step();
        CHECK(host.says("state-damaged"));
        CHECK(host.state().size() < mostBytes);
        // Said to be kept only if it is.
        for (const auto& message : host.view()->messages)
            if (message.problem.code == "state-damaged")
            {
                const auto place = message.problem.remedy.find(", in /");
                REQUIRE(place != std::string::npos);
                CHECK(test::readBytes(message.problem.remedy.substr(place + 5)) == text);
            }
    }
}

TEST_CASE("Making, destroying and state calls make and read no file")
{
    const TemporarySettings settings;
    const Worked worked;
    const auto trialText = test::readBytes(fs::path(worked.folder) / "trial.json");
    const TemporaryFolder home;
    const auto place = home / "nowhere";
    setenv("PLUMBLINE_SETTINGS", place.string().c_str(), 1);
    fs::remove_all(worked.folder);
    {
        SessionHost host;
        host.restore(worked.state);
        CHECK(host.state() == worked.state);
        CHECK(host.view()->messages.empty()); // nobody has looked whether the trial is there
        host.restore("{");
        static_cast<void>(host.state());
    }
    CHECK_FALSE(fs::exists(place));
    CHECK(test::namesIn(home.path()).empty());
    CHECK_FALSE(fs::exists(worked.folder));
}

TEST_CASE("A new processor does not ask the system where documents go: that reads a file")
{
    const TemporarySettings settings;
    const TemporaryFolder home;
    fs::create_directories(home / ".config");
    fs::create_directories(home / "Papers");
    test::writeBytes(home / ".config/user-dirs.dirs", "XDG_DOCUMENTS_DIR=\"$HOME/Papers\"\n");
    const std::string before = std::getenv("HOME") == nullptr ? "" : std::getenv("HOME");
    setenv("HOME", home.path().string().c_str(), 1);
    const auto told = PlumblineProcessor(AnalysisDrive::byHand).session().session()->trialsFolder;
    setenv("HOME", before.c_str(), 1);
    CHECK_THAT(told, !Catch::Contains("Papers"));
}
