// What could pass here for the wrong reason: a session that never sounds, or a message that is said whatever
// happened. So beside each refusal the same host is seen to take, and the messages are compared as a whole.

#include "Support/SessionHost.h"

#include "Measure/Stimulus.h"

#include <catch2/catch.hpp>

using namespace plumbline;
using test::newestOf;
using test::SessionHost;
using test::TemporarySettings;
using Codes = std::vector<std::string>;

namespace
{
constexpr auto heron = "Heron 6, upright";

bool hasCurve(SessionHost& host)
{
    return newestOf(*host.view(), heron) != nullptr;
}
}

TEST_CASE("Nothing sounds before the page of care was read; then it does")
{
    const TemporarySettings settings;
    SessionHost host;
    host.beginWith();
    CHECK_FALSE(host.view()->careWasRead);
    host.session().startTake();
    host.pump(800); // longer than the whole take
    CHECK(host.codes() == Codes{ "care-first" });
    CHECK(host.loudestFrom(0) == 0.0f);
    CHECK_FALSE(hasCurve(host));
    CHECK(host.phase() == LiveState::Phase::idle);
    host.session().careWasRead();
    host.take();
    CHECK(host.view()->careWasRead);
    CHECK(host.codes() == Codes{});
    CHECK(host.loudestFrom(0) == Approx(0.01f).margin(1e-4)); // -40 dBFS
    REQUIRE(hasCurve(host));
    CHECK(newestOf(*host.view(), heron)->left.levelDb[240] == Approx(0.0).margin(0.05));
}

TEST_CASE("Before the settings were read nothing sounds, whatever is asked")
{
    const TemporarySettings settings;
    {
        SessionHost reader;
        reader.beginReady();
    }
    SessionHost host;
    host.session().describeMonitor("", SessionHost::named("Heron 6"));
    host.session().standHere(heron);
    host.session().startTake();
    host.pump(800);
    CHECK(host.loudestFrom(0) == 0.0f);
    host.session().begin();
    host.take();
    CHECK(hasCurve(host));
}

TEST_CASE("The page of care is read once for a computer: an instance that comes later does not ask for it")
{
    const TemporarySettings settings;
    SessionHost first;
    first.beginReady();
    SessionHost second;
    second.beginWith();
    CHECK(second.view()->careWasRead);
    second.take();
    CHECK(hasCurve(second));
}

TEST_CASE("The page of care is read once for a computer: an instance that is open already takes it over")
{
    const TemporarySettings settings;
    SessionHost first, second;
    second.beginWith();
    first.beginReady();
    second.take();
    CHECK(second.codes() == Codes{});
    CHECK(hasCurve(second));
}

TEST_CASE("Where settings cannot be written what was read holds for the session, and it is said")
{
    const TemporarySettings settings;
    const test::TemporaryFolder folder;
    test::writeBytes(folder / "file", "in the way");
    setenv("PLUMBLINE_SETTINGS", (folder / "file" / "settings").string().c_str(), 1);
    SessionHost host;
    host.beginWith();
    host.session().newTrial("Spring", folder.path().string());
    host.session().careWasRead();
    host.step();
    CHECK(host.view()->careWasRead);
    REQUIRE(host.view()->messages.size() == 1);
    CHECK(host.view()->messages[0].concern == SessionMessage::Concern::settings);
    CHECK_THAT(host.view()->messages[0].problem.what, Catch::Contains("this session only"));
    host.take();
    CHECK(hasCurve(host));
    SECTION("the window's look is changed")
    {
        host.session().setAppearance({ false, 150, true });
        host.step();
        CHECK(host.view()->careWasRead);
        host.session().setAppearance({ true, 150, true });
        host.take();
        CHECK(host.view()->trial.trial->takes.size() == 2);
    }
}

TEST_CASE("The level begins at -40 dBFS, and what is set is what is played")
{
    const TemporarySettings settings;
    SessionHost host;
    host.session().begin();
    host.step();
    CHECK(host.view()->plan.levelDbfs == -40.0);
    host.beginReady();
    host.session().setPlan({ -60.0, 1.0, 20.0, 20000.0 });
    host.take();
    CHECK(host.loudestFrom(0) == Approx(0.001f).margin(1e-5));
    host.session().setPlan({ 0.0, 1.0, 20.0, 20000.0 }); // above the ceiling
    host.step();
    CHECK(host.view()->plan.levelDbfs == ceilingDbfs);
}

TEST_CASE("No take begins without a stance that stands there")
{
    const TemporarySettings settings;
    SessionHost host;
    host.session().begin();
    host.session().careWasRead();
    host.session().startTake();
    host.pump(400);
    CHECK(host.codes() == Codes{ "no-stance" });
    CHECK(host.loudestFrom(0) == 0.0f);
}

TEST_CASE("A page of messages can be dismissed one by one")
{
    const TemporarySettings settings;
    SessionHost host;
    host.beginWith();
    host.session().startTake();
    host.session().openTrial((settings.path() / "nowhere").string());
    host.step();
    REQUIRE(host.codes().size() == 2);
    host.session().dismiss("care-first");
    host.step();
    CHECK(host.codes().size() == 1);
    CHECK_FALSE(host.says("care-first"));
}

TEST_CASE("Every change makes a new version, and stillness makes none")
{
    const TemporarySettings settings;
    SessionHost host;
    host.beginReady();
    host.pump(3);
    const auto before = host.session().version();
    const auto seen = host.view();
    host.pump(20);
    CHECK(host.session().version() == before);
    CHECK(host.view() == seen);
    host.session().standAgain();
    host.step();
    CHECK(host.session().version() > before);
    CHECK(host.view() != seen);
    CHECK(seen->trial.hereSetUp == 1); // what was handed out does not change
    CHECK(host.view()->trial.hereSetUp == 2);
}

TEST_CASE("A parameter that the host changes by itself is seen in the plan")
{
    const TemporarySettings settings;
    SessionHost host;
    host.beginReady();
    host.processor.getParameters()[1]->setValueNotifyingHost(0.5f);
    static_cast<void>(host.session().live()); // the window looks
    host.step();
    CHECK(host.view()->plan.sweepSeconds == Approx(15.5));
}

TEST_CASE("The band of a plan is kept and measured")
{
    const TemporarySettings settings;
    SessionHost host;
    host.beginReady();
    host.session().setPlan({ -40.0, 1.0, 100.0, 10000.0 });
    host.step();
    CHECK(host.view()->plan.fromHz == 100.0);
    host.take();
    REQUIRE(hasCurve(host));
    CHECK(newestOf(*host.view(), heron)->left.frequencyHz.front() >= 99.0);
}

TEST_CASE("Appearance and trials that were open are kept for the next instance")
{
    const TemporarySettings settings;
    {
        SessionHost host;
        host.beginReady();
        host.session().setAppearance({ false, 400, true });
        host.session().newTrial("Spring", "");
        host.session().newTrial("Summer", "");
        host.step();
        CHECK(host.view()->appearance.scalePercent == 250);
    }
    SessionHost next;
    next.session().begin();
    next.step();
    CHECK(next.view()->appearance == Appearance{ false, 250, true });
    REQUIRE(next.view()->recentTrials.size() == 2);
    CHECK_THAT(next.view()->recentTrials[0], Catch::EndsWith("Summer"));
    CHECK_THAT(next.view()->recentTrials[1], Catch::EndsWith("Spring"));
}

TEST_CASE("Damaged settings are said, give the defaults, and are kept beside the new ones")
{
    const TemporarySettings settings;
    test::writeBytes(settings.path() / "settings.json", "{ this is not");
    SessionHost host;
    host.session().begin();
    host.step();
    REQUIRE(host.view()->messages.size() == 1);
    CHECK(host.view()->messages[0].concern == SessionMessage::Concern::settings);
    CHECK_FALSE(host.view()->careWasRead);
    host.session().careWasRead();
    host.step();
    CHECK(test::readBytes(settings.path() / "settings.json.set-aside") == "{ this is not");
    SessionHost next;
    next.session().begin();
    next.step();
    CHECK(next.view()->careWasRead);
}
