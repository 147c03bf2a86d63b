// What could pass here for the wrong reason: an output that is silent because nothing was playing. Every stop is
// looked for from the middle of a sweep that is heard, and after it the next take must work.

#include "Support/SessionHost.h"

#include <catch2/catch.hpp>

using namespace plumbline;
using test::newestOf;
using test::SessionHost;
using test::TemporarySettings;
using Codes = std::vector<std::string>;
using Phase = LiveState::Phase;

namespace
{
constexpr auto heron = "Heron 6, upright";
constexpr auto laid = "Heron 6, side, tweeters out";
constexpr std::size_t tenMilliseconds = 480;
constexpr float notANumber = std::numeric_limits<float>::quiet_NaN();

int takesOf(SessionHost& host, const std::string& stance, int setUp = 1)
{
    const auto& trial = *host.view()->trial.trial;
    const auto* standing = trial.setUpOf(stance, setUp);
    return static_cast<int>(std::count_if(trial.takes.begin(), trial.takes.end(),
                                          [&](const TakeEntry& take)
                                          { return standing != nullptr && take.setUp == standing->id; }));
}

auto filling(float value)
{
    return [value](float* microphone, int frames) { std::fill_n(microphone, frames, value); };
}

auto growing()
{
    return [level = 0.001f](float* microphone, int frames) mutable
    {
        for (int i = 0; i < frames; ++i)
            microphone[i] = (i % 2 == 0 ? 1.0f : -1.0f) * std::min(0.99f, level *= 1.001f);
    };
}

struct Row
{
    const char* name;
    std::function<void(SessionHost&)> provoke;
    const char* code;
    bool known = true; ///< the very next block could know; otherwise the one in which the take stops
};

void nextTakeWorks(SessionHost& host)
{
    host.disturb = {};
    host.processor.setNonRealtime(false);
    host.prepare(48000.0);
    host.session().acknowledge();
    host.pump(4);
    host.take();
    CHECK(host.codes() == Codes{});
    CHECK(takesOf(host, heron) == 1);
}
}

TEST_CASE("Each stop of a take names itself and is silent within 10 ms of the first block that could know")
{
    const Row rows[] = {
        { "stop", [](SessionHost& host) { host.session().stop(); }, "stopped" },
        { "overload", [](SessionHost& host) { host.disturb = filling(1.0f); }, "overload" },
        { "not finite", [](SessionHost& host) { host.disturb = filling(notANumber); }, "not-finite" },
        { "runaway", [](SessionHost& host) { host.disturb = growing(); }, "runaway", false },
        { "rate changed", [](SessionHost& host) { host.prepare(44100.0); }, "stream-changed" },
        { "host stopped", [](SessionHost& host) { host.processor.releaseResources(); }, "host-stopped" },
        { "window closed", [](SessionHost& host) { host.session().windowClosed(); }, "window-closed" },
        { "render begun", [](SessionHost& host) { host.processor.setNonRealtime(true); }, "offline-render" },
    };
    for (const auto& row : rows)
    {
        INFO(row.name);
        const TemporarySettings settings;
        SessionHost host;
        host.beginReady();
        host.session().startTake();
        REQUIRE(host.runIntoTheSweep());
        REQUIRE(host.loudestFrom(host.played() - 480) > 0.009f);
        row.provoke(host);
        auto known = host.played();
        while (!row.known && host.phase() == Phase::taking && host.played() < known + 480000)
        {
            known = host.played();
            host.block();
        }
        host.pump(8);
        CHECK(host.loudestFrom(known + tenMilliseconds) == 0.0f);
        CHECK(host.codes() == Codes{ row.code });
        CHECK(host.view()->messages.at(0).concern == SessionMessage::Concern::take);
        CHECK(host.view()->messages.at(0).problem.sentence().size() > 20);
        CHECK(host.phase() == Phase::stopped);
        CHECK(host.view()->takeUnderWay.empty());
        CHECK(takesOf(host, heron) == 0);
        nextTakeWorks(host);
    }
}

TEST_CASE("What must be acknowledged holds the mix until it is, other stops do not")
{
    const TemporarySettings settings;
    SessionHost host;
    host.mix = 0.25f;
    host.wired = false;
    host.beginReady();
    host.session().startTake();
    REQUIRE(host.until(
        [&] { return host.phase() == Phase::taking && host.loudestFrom(host.played() - 100) < 0.02f; }));
    SECTION("stop")
    {
        host.session().stop();
        host.pump(200);
        CHECK_FALSE(host.session().live().mustAcknowledge);
        CHECK(host.left.back() == 0.25f);
    }
    SECTION("overload")
    {
        host.disturb = filling(1.0f);
        host.pump(200);
        CHECK(host.session().live().mustAcknowledge);
        CHECK(host.left.back() == 0.0f);
        host.session().acknowledge();
        host.pump(200);
        CHECK_FALSE(host.session().live().mustAcknowledge);
        CHECK(host.codes() == Codes{});
        CHECK(host.left.back() == 0.25f);
    }
}

TEST_CASE("No take begins without a Return, in a render, or with a host that has no rate; each is said")
{
    const TemporarySettings settings;
    SessionHost host;
    host.beginReady();
    std::string code;
    SECTION("no Return")
    {
        host.disconnectReturn();
        code = "no-return";
    }
    SECTION("a file is rendered")
    {
        host.processor.setNonRealtime(true);
        code = "offline-render";
    }
    host.take();
    CHECK(host.codes() == Codes{ code });
    CHECK(host.loudestFrom(0) == 0.0f);
    CHECK(host.session().live().returnConnected == host.connected);
    CHECK(host.session().live().hostIsRendering == host.connected);
}

TEST_CASE("A silent Return is said, and no take is filed")
{
    const TemporarySettings settings;
    SessionHost host;
    host.wired = false;
    host.beginReady();
    host.take();
    CHECK(host.codes() == Codes{ "silent-microphone" });
    CHECK(takesOf(host, heron) == 0);
    host.wired = true;
    nextTakeWorks(host);
}

TEST_CASE("Stop counts from preparing on, at whichever point it comes")
{
    const TemporarySettings settings;
    SessionHost host;
    host.beginReady();
    host.session().startTake();
    SECTION("before the analysis side has seen the start")
    {
        host.session().stop();
    }
    SECTION("when it is lent, before the first block")
    {
        host.step();
        CHECK(host.phase() == Phase::preparing);
        host.session().stop();
    }
    SECTION("in the mix's fade")
    {
        host.step();
        host.block(64);
        CHECK(host.phase() == Phase::taking);
        host.session().stop();
    }
    host.pump(800);
    CHECK(host.loudestFrom(0) == 0.0f);
    CHECK(takesOf(host, heron) == 0);
    nextTakeWorks(host);
}

TEST_CASE("A window closed counts from preparing on, and does nothing when no take is under way")
{
    const TemporarySettings settings;
    SessionHost host;
    host.beginReady();
    SECTION("nothing under way")
    {
        host.session().windowClosed();
        host.pump(4);
        CHECK(host.codes() == Codes{});
    }
    SECTION("before the analysis side has seen the start")
    {
        host.session().startTake();
        host.session().windowClosed();
        host.pump(800);
        CHECK(host.loudestFrom(0) == 0.0f);
    }
    SECTION("when it is lent, before the first block")
    {
        host.session().startTake();
        host.step();
        host.session().windowClosed();
        host.pump(800);
        CHECK(host.loudestFrom(0) == 0.0f);
        CHECK(host.codes() == Codes{ "window-closed" });
    }
    nextTakeWorks(host);
}

TEST_CASE("A start that waits for the practice room to go can be stopped, and a window closed stops it")
{
    const TemporarySettings settings;
    SessionHost host;
    host.beginReady();
    host.session().usePracticeRoom(true);
    host.take();
    REQUIRE(takesOf(host, heron) == 1);
    host.session().usePracticeRoom(false);
    host.session().startTake();
    host.step(); // no block has come since: the room is still in the Return's place
    CHECK(host.phase() == Phase::preparing); // "asked for, not begun"
    bool stopped = true;
    SECTION("stop")
    {
        host.session().stop();
    }
    SECTION("window closed")
    {
        host.session().windowClosed();
    }
    SECTION("neither (negative control)")
    {
        stopped = false;
    }
    host.pump(800);
    CHECK((host.loudestFrom(0) == 0.0f) == stopped);
    CHECK(takesOf(host, heron) == (stopped ? 1 : 2));
}

TEST_CASE("A take belongs to what stood there when it began, whatever is told while it runs")
{
    const TemporarySettings settings;
    SessionHost host;
    host.beginReady();
    host.session().startTake();
    REQUIRE(host.runIntoTheSweep());
    CHECK(host.view()->takeUnderWay == heron);
    SECTION("nothing is told (control)")
    {
    }
    SECTION("another stance")
    {
        host.session().standHere(laid);
    }
    SECTION("stood up again")
    {
        host.session().standAgain();
    }
    host.finishTake();
    CHECK(takesOf(host, heron) == 1);
    CHECK(takesOf(host, laid) == 0);
    CHECK(takesOf(host, heron, 2) == 0);
}

TEST_CASE("A take is not lost when the pair is renamed or another trial is opened while it runs")
{
    const TemporarySettings settings;
    SessionHost host;
    host.beginReady();
    host.session().newTrial("First", "");
    host.step();
    const std::filesystem::path first = host.view()->trial.folder;
    const auto stored = [&](const std::filesystem::path& folder)
    { return std::distance(std::filesystem::directory_iterator(folder / "takes"), {}); };
    host.session().startTake();
    REQUIRE(host.runIntoTheSweep());
    SECTION("renamed")
    {
        host.session().describeMonitor("Heron 6", SessionHost::named("Tarn 5"));
        host.finishTake();
        CHECK(takesOf(host, "Tarn 5, upright") == 1);
    }
    SECTION("another trial")
    {
        host.session().newTrial("Second", "");
        host.step();
        CHECK(host.says("take-under-way"));
        CHECK(host.view()->trial.folder == first);
        host.finishTake();
        host.session().newTrial("Second", "");
        host.step();
        CHECK(stored(host.view()->trial.folder) == 0);
    }
    // In its trial, or held and said to be: nowhere else.
    CHECK(stored(first) + host.view()->trial.takesInMemory == 1);
}

TEST_CASE("What a take shows has its place among the takes of its set-up, and the one before it is kept")
{
    const TemporarySettings settings;
    SessionHost host;
    host.beginReady();
    host.take();
    host.take();
    auto curves = host.view()->trial.curves.at(heron);
    REQUIRE(curves.newest);
    REQUIRE(curves.before);
    CHECK(curves.newest->take == 2);
    CHECK(curves.before->take == 1);
    CHECK(curves.newest->setUp == 1);
    host.session().standAgain();
    host.take();
    curves = host.view()->trial.curves.at(heron);
    CHECK(curves.newest->take == 1);
    CHECK(curves.newest->setUp == 2);
    CHECK(curves.before->take == 2);
    CHECK_FALSE(curves.newest->takeId.empty());
    CHECK(curves.newest->smoothing == "1/12 octave");
    CHECK_FALSE(curves.newest->levelIsSpl);
    CHECK(curves.newest->right);
}

TEST_CASE("A single monitor is taken alone, in the shorter time that is told")
{
    const TemporarySettings settings;
    SessionHost host;
    host.beginReady();
    const double ofPair = host.view()->times.totalSeconds();
    auto alone = SessionHost::named("Osier 8");
    alone.kind = Monitor::Kind::single;
    host.session().describeMonitor("", alone);
    host.session().standHere("Osier 8, upright");
    host.step();
    const double ofOne = host.view()->times.totalSeconds();
    CHECK(ofOne < ofPair - 1.5);
    const auto before = host.played();
    host.take();
    const auto curves = newestOf(*host.view(), "Osier 8, upright");
    REQUIRE(curves);
    CHECK_FALSE(curves->right);
    // The stream and, before it, the mix's fade: what is told is what it takes.
    CHECK(static_cast<double>(host.played() - before) / 48000.0 == Approx(ofOne).margin(0.1));
}

TEST_CASE("Elapsed time runs to the total that is told")
{
    const TemporarySettings settings;
    SessionHost host;
    host.beginReady();
    host.session().startTake();
    double last = 0.0;
    host.until(
        [&]
        {
            const auto live = host.session().live();
            if (live.phase == Phase::taking)
                last = live.elapsedSeconds;
            return host.number() > 0;
        });
    CHECK(last == Approx(host.view()->times.totalSeconds()).margin(0.05));
}

TEST_CASE("Takes that are only in memory are said to be until they are saved, whatever else is done")
{
    const TemporarySettings settings;
    test::writeBytes(settings.path() / "trials", "in the way");
    SessionHost host;
    host.beginReady();
    host.take();
    host.take();
    CHECK(host.codes() == Codes{ "kept-in-memory" });
    CHECK(host.view()->messages.at(0).concern == SessionMessage::Concern::trial);
    CHECK(host.view()->messages.at(0).attend);
    CHECK(host.view()->trial.place == TrialView::Place::memory);
    CHECK(host.view()->trial.takesInMemory == 2);
    CHECK(host.view()->recentTrials.empty());
    SECTION("another pair is described")
    {
        host.session().describeMonitor("", SessionHost::named("Tarn 5"));
        host.step();
        CHECK(host.says("kept-in-memory"));
    }
    SECTION("another trial is asked for")
    {
        host.session().openTrial((settings.path() / "nowhere").string());
        host.step();
        CHECK(host.says("takes-in-memory"));
        CHECK(host.says("kept-in-memory"));
    }
    host.session().saveTrialIn((settings.path() / "elsewhere").string());
    host.step();
    CHECK(host.codes() == Codes{});
    CHECK(host.view()->trial.place == TrialView::Place::folder);
    CHECK(host.view()->trial.takesInMemory == 0);
    CHECK(takesOf(host, heron) == 2);
    CHECK(host.view()->recentTrials == std::vector<std::string>{ host.view()->trial.folder });
}
