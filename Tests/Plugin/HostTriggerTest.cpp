// What could pass here for the wrong reason: a trigger that never starts anything. Beside each refusal the same
// host, let, is seen to take.

#include "Plugin/HostTrigger.h"

#include "Support/RunnerHost.h"
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

std::size_t takes(SessionHost& host)
{
    return host.view()->trial.trial->takes.size();
}

/** Ready, the host let, and the take armed. */
void arm(SessionHost& host)
{
    host.beginReady();
    host.session().letHostStart(true);
    REQUIRE(host.until([&] { return host.phase() == Phase::armed; }, 1.0));
}

std::string settingsText(const TemporarySettings& settings, const std::string& more)
{
    return R"({"schema":"plumbline/settings/1","trialsFolder":")" + (settings.path() / "trials").string() +
           "\"," + more + "}";
}
}

TEST_CASE("The trigger tells a rise, and takes a parameter that begins on for one that was on")
{
    HostTrigger trigger;
    CHECK_FALSE(trigger.risen(true));
    CHECK_FALSE(trigger.risen(true));
    CHECK_FALSE(trigger.risen(false));
    CHECK(trigger.risen(true));
    CHECK_FALSE(trigger.risen(true));
    CHECK_FALSE(trigger.risen(false));
    CHECK(trigger.risen(true));
}

TEST_CASE("The host starts the armed take, once, and it is armed again afterwards")
{
    const TemporarySettings settings;
    SessionHost host;
    host.mix = 0.25f;
    arm(host);
    host.pump(200);
    CHECK(host.left.back() == 0.25f); // armed, the mix passes
    host.mix = 0.0f;
    host.pump(2);
    const auto from = host.played();
    host.trigger();
    CHECK(host.phase() == Phase::taking);
    CHECK(host.session().live().hostStarted);
    CHECK(host.view()->takeUnderWay == heron);
    host.finishTake();
    CHECK(takes(host) == 1);
    CHECK(host.loudestFrom(from) > 0.009f);
    REQUIRE(host.until([&] { return host.phase() == Phase::armed; }, 1.0));
    CHECK(host.view()->hostMayStart);
    CHECK_FALSE(host.session().live().hostStarted);
    const auto then = host.played();
    host.pump(800); // the parameter is still on: nothing starts
    CHECK(host.loudestFrom(then) == 0.0f);
    host.trigger();
    host.finishTake();
    CHECK(takes(host) == 2);
}

TEST_CASE("Without the user's consent nothing is armed and the host starts nothing")
{
    const TemporarySettings settings;
    SessionHost host;
    host.beginReady();
    host.pump(4);
    CHECK(host.phase() == Phase::idle);
    host.trigger();
    host.pump(800);
    CHECK(host.loudestFrom(0) == 0.0f);
    host.session().letHostStart(true);
    host.pump(4);
    host.trigger();
    host.finishTake();
    CHECK(takes(host) == 1);
    SECTION("consent taken back")
    {
        host.until([&] { return host.phase() == Phase::armed; }, 1.0);
        host.session().letHostStart(false);
        host.pump(4);
        CHECK(host.phase() == Phase::idle);
        CHECK(host.codes() == Codes{});
        const auto from = host.played();
        host.trigger();
        host.pump(800);
        CHECK(host.loudestFrom(from) == 0.0f);
        CHECK(takes(host) == 1);
    }
}

TEST_CASE("With consent but without the page of care nothing is armed, but in the practice room")
{
    const TemporarySettings settings;
    SessionHost host;
    host.beginWith();
    host.session().letHostStart(true);
    host.pump(4);
    CHECK(host.phase() == Phase::idle);
    host.trigger();
    host.pump(800);
    CHECK(host.loudestFrom(0) == 0.0f);
    host.session().usePracticeRoom(true);
    REQUIRE(host.until([&] { return host.phase() == Phase::armed; }, 1.0));
    host.trigger();
    host.finishTake();
    CHECK(takes(host) == 1);
    CHECK(host.loudestFrom(0) == 0.0f);
}

TEST_CASE("A parameter that is on at the beginning, or when the take is armed, starts nothing")
{
    const TemporarySettings settings;
    SessionHost host;
    host.startParameter().setValueNotifyingHost(1.0f);
    SECTION("from the beginning")
    {
        host.beginReady();
    }
    SECTION("switched on before it is armed")
    {
        host.startParameter().setValueNotifyingHost(0.0f);
        host.beginReady();
        host.pump(2);
        host.startParameter().setValueNotifyingHost(1.0f);
        host.pump(2);
    }
    host.session().letHostStart(true);
    host.pump(800);
    CHECK(host.phase() == Phase::armed);
    CHECK(host.loudestFrom(0) == 0.0f);
    host.trigger();
    CHECK(host.phase() == Phase::taking);
}

TEST_CASE("Another level, another stance or another rate arms the take anew, and so it is then taken")
{
    const TemporarySettings settings;
    SessionHost host;
    arm(host);
    float level = 0.01f;
    std::string stance = heron;
    SECTION("level")
    {
        host.session().setPlan({ -60.0, 1.0, 20.0, 20000.0 });
        level = 0.001f;
    }
    SECTION("level, by the host's own panel")
    {
        host.processor.getParameters()[0]->setValueNotifyingHost(
            host.processor.getParameters()[0]->getValueForText("-60"));
        level = 0.001f;
    }
    SECTION("stance")
    {
        stance = "Heron 6, side, tweeters in";
        host.session().standHere(stance);
    }
    SECTION("rate")
    {
        host.prepare(44100.0);
    }
    SECTION("practice room")
    {
        host.session().usePracticeRoom(true);
        level = 0.0f;
    }
    host.pump(8);
    CHECK(host.codes() == Codes{});
    CHECK(host.view()->hostMayStart);
    REQUIRE(host.phase() == Phase::armed);
    host.trigger();
    host.finishTake();
    CHECK(host.loudestFrom(0) == Approx(level).margin(1e-4));
    REQUIRE(takes(host) == 1);
    CHECK(newestOf(*host.view(), stance) != nullptr);
}

TEST_CASE("The user starts the armed take as it stands now, not as it stood when it was armed")
{
    const TemporarySettings settings;
    SessionHost host;
    arm(host);
    float level = 0.01f;
    std::string stance = heron;
    SECTION("as it was armed")
    {
    }
    SECTION("another level, then start")
    {
        host.session().setPlan({ -60.0, 1.0, 20.0, 20000.0 });
        level = 0.001f;
    }
    SECTION("another stance, then start")
    {
        stance = "Heron 6, side, tweeters in";
        host.session().standHere(stance);
    }
    host.session().startTake();
    host.until([&] { return takes(host) == 1; }, 10.0);
    CHECK(host.loudestFrom(0) == Approx(level).margin(1e-4));
    CHECK(newestOf(*host.view(), stance) != nullptr);
    CHECK_FALSE(host.session().live().hostStarted);
}

TEST_CASE("A window closed stops neither the armed take nor the one that the host has started")
{
    const TemporarySettings settings;
    SessionHost host;
    arm(host);
    host.session().windowClosed();
    host.pump(4);
    CHECK(host.phase() == Phase::armed);
    host.trigger();
    REQUIRE(host.runIntoTheSweep());
    host.session().windowClosed();
    host.finishTake();
    CHECK(takes(host) == 1);
    CHECK(host.codes() == Codes{});
}

TEST_CASE("Stop silences an armed take and one that the host has started, and takes the consent back")
{
    const TemporarySettings settings;
    SessionHost host;
    arm(host);
    SECTION("armed")
    {
    }
    SECTION("taking")
    {
        host.trigger();
        REQUIRE(host.runIntoTheSweep());
    }
    host.session().stop();
    const auto known = host.played();
    host.pump(8);
    CHECK(host.loudestFrom(known + 480) == 0.0f);
    CHECK(host.codes() == Codes{ "stopped" });
    CHECK_FALSE(host.view()->hostMayStart);
    const auto from = host.played();
    host.trigger();
    host.pump(800);
    CHECK(host.loudestFrom(from) == 0.0f);
    CHECK(takes(host) == 0);
}

TEST_CASE("An armed take that fails says why, and the user has to let the host again")
{
    const TemporarySettings settings;
    SessionHost host;
    arm(host);
    host.processor.setNonRealtime(true);
    host.trigger();
    host.pump(8);
    CHECK(host.codes() == Codes{ "offline-render" });
    CHECK_FALSE(host.view()->hostMayStart);
    host.processor.setNonRealtime(false);
    host.trigger();
    host.pump(800);
    CHECK(host.loudestFrom(0) == 0.0f);
    host.session().letHostStart(true);
    host.pump(8);
    host.trigger();
    host.finishTake();
    CHECK(takes(host) == 1);
}

TEST_CASE("An armed take waits for its first block as long as it likes")
{
    test::RunnerHost host;
    double seconds = 0.0;
    AnalysisWorker worker(host.runner, [&] { return seconds; });
    worker.setSessionRate(48000.0);
    TakeRequest wanted;
    wanted.stimulus.seconds = 1.0;
    wanted.startAtOnce = false;
    REQUIRE_FALSE(worker.request(wanted));
    worker.step();
    seconds += 3600.0; // a host with the transport at rest may not call at all
    worker.step();
    CHECK(worker.status().busy);
    CHECK(worker.status().latest == nullptr);
    host.block(64);
    CHECK(worker.status().phase == TakePhase::armed);
}

TEST_CASE(
    "Without a window the settings let the host start, and what it takes is filed under a trial of its own")
{
    const TemporarySettings settings;
    std::string more;
    bool may = false;
    SECTION("let, and the page of care read")
    {
        more = R"("hostMayStart":true,"careReadAt":"2026-03-01T10:00:00Z")";
        may = true;
    }
    SECTION("let, the page of care not read (negative control)")
    {
        more = R"("hostMayStart":true)";
    }
    SECTION("not let (negative control)")
    {
        more = R"("careReadAt":"2026-03-01T10:00:00Z")";
    }
    test::writeBytes(settings.path() / "settings.json", settingsText(settings, more));
    SessionHost host;
    host.session().begin();
    host.processor.getParameters()[1]->setValueNotifyingHost(0.0f); // sweeps of 1 s
    host.pump(8);
    CHECK((host.phase() == Phase::armed) == may);
    host.trigger();
    CHECK((host.phase() == Phase::taking) == may);
    host.finishTake();
    host.pump(8);
    CHECK((host.loudestFrom(0) > 0.0f) == may);
    REQUIRE(takes(host) == (may ? 1u : 0u));
    if (!may)
        return;
    const std::filesystem::path folder = host.view()->trial.folder;
    CHECK(folder.parent_path() == settings.path() / "trials");
    CHECK(newestOf(*host.view(), "Monitors, upright") != nullptr);
    CHECK(host.phase() == Phase::armed); // and so on
}
