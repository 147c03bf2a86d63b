// What could pass here for the wrong reason: a curve that is compared with the code that drew it. The truth is the sum
// over the taps of a room that the test makes itself from the shipped scenario; the take goes through the whole plugin.

#include "Plugin/PracticeStand.h"

#include "Support/Practice.h"
#include "Support/SessionHost.h"
#include "Support/TrialFolders.h"

#include <catch2/catch.hpp>

using namespace plumbline;
using namespace plumbline::test;
using Phase = LiveState::Phase;
using Codes = std::vector<std::string>;

namespace
{
constexpr auto heron = "Heron 6, upright";

Trial trialOf(const std::vector<Monitor>& monitors, const std::string& id = "abc")
{
    Trial trial;
    trial.id = id;
    trial.monitors = monitors;
    return trial;
}

/** What the loop answers to an impulse on the left, noise and all. */
std::vector<float> heardFrom(RoomLoop& loop)
{
    std::vector<float> left(4096, 0.0f), right(4096, 0.0f), microphone(4096), reference(4096);
    left[0] = 1.0f;
    const float* const played[] = { left.data(), right.data() };
    loop.process(played, 4096, microphone.data(), reference.data());
    return microphone;
}

std::vector<float> heard(PracticeStand& stand, const Trial& trial, const std::string& stance, int setUp,
                         int take, double rate = 48000.0)
{
    auto loop = stand.loop(trial, stance, setUp, take, rate);
    REQUIRE(loop);
    return heardFrom(**loop);
}

/** FNV-1a of 64 bits as published, less the lowest 12: the room's seed. */
std::uint64_t seedOf(const std::string& text)
{
    std::uint64_t hash = 0xcbf29ce484222325u;
    for (const char c : text)
    {
        hash ^= static_cast<std::uint8_t>(c);
        hash *= 0x100000001b3u;
    }
    return hash >> 12;
}
}

TEST_CASE("The microphone that is told to the analysis is the one that the room has")
{
    PracticeStand stand;
    const auto microphone = stand.microphone();
    REQUIRE(microphone);
    const auto scenario = shipped("three-pairs.json");
    CHECK(microphone->temperatureC == scenario.studio.temperatureC);
    CHECK_FALSE(microphone->sensitivityDbSpl);
    REQUIRE(microphone->calibration);
    REQUIRE(microphone->calibration->points().size() == scenario.microphone.response.size());
    CHECK(microphone->calibration->points()[2].levelDb == scenario.microphone.response[2].levelDb);
}

TEST_CASE("A shipped monitor is simulated as it ships, another from what is told of it")
{
    const auto scenario = shipped("three-pairs.json");
    Monitor monitor;
    monitor.name = "Heron 6";
    monitor.widthCm = 99.0;
    CHECK(practiceModel(monitor, scenario) == scenario.monitors[0]);
    monitor.name = "Own 4";
    monitor.kind = Monitor::Kind::single;
    monitor.widthCm = 15.0;
    monitor.driverSpacingCm = 12.0;
    monitor.crossoverHz = 3000.0;
    monitor.wooferCm = 10.0;
    const auto model = practiceModel(monitor, scenario);
    CHECK(model.kind == MonitorModel::Kind::single);
    CHECK(model.cabinetWidthCm == 15.0);
    CHECK(model.driverSpacingM == Approx(0.12));
    CHECK(model.crossoverHz == 3000.0);
    CHECK(model.wooferRadiusM == Approx(0.043));
    CHECK(model.lowCornerHz == Approx(75.0));
    CHECK(practiceModel(monitor, scenario) == model); // the same pair again
    Monitor other = monitor;
    other.name = "Own 5";
    CHECK(practiceModel(other, scenario).bumps != model.bumps);
}

TEST_CASE("Every monitor that can be described can be simulated, or is refused in words")
{
    PracticeStand stand;
    for (const double size : { 0.01, 1.0, 20.0, 500.0, 1e9 })
    {
        INFO(size);
        Monitor monitor;
        monitor.name = "Own 4";
        monitor.widthCm = monitor.heightCm = monitor.depthCm = size;
        monitor.driverSpacingCm = monitor.wooferCm = size;
        monitor.crossoverHz = 100.0 * size;
        const auto loop = stand.loop(trialOf({ monitor }), "Own 4, upright", 1, 0, 48000.0);
        if (!loop)
            CHECK_THAT(loop.problem().sentence(), Catch::EndsWith("."));
    }
    Monitor plain;
    plain.name = "Own 4";
    CHECK(stand.loop(trialOf({ plain }), "Own 4, upright", 1, 0, 48000.0));
}

TEST_CASE("A stance that is not the trial's, or of the user's own making, is refused")
{
    PracticeStand stand;
    const auto trial = trialOf({ SessionHost::named("Heron 6") });
    CHECK(stand.loop(trial, "Tarn 5, upright", 1, 0, 48000.0).problem().code == "no-stance");
    CHECK(stand.loop(trial, "Heron 6, on its head", 1, 0, 48000.0).problem().code == "no-stance");
    CHECK(stand.loop(trial, "", 1, 0, 48000.0).problem().code == "no-stance");
    CHECK_FALSE(stand.loop(trialOf({}), heron, 1, 0, 48000.0));
    CHECK(stand.loop(trial, heron, 1, 0, 48000.0));
}

TEST_CASE("The same take of the same trial is the same; take, set-up, stance, trial and rate make another")
{
    PracticeStand stand, again;
    const auto trial = trialOf({ SessionHost::named("Heron 6") });
    const auto first = heard(stand, trial, heron, 1, 0);
    CHECK((heard(again, trial, heron, 1, 0) == first));
    CHECK((heard(stand, trial, heron, 1, 0) == first));
    CHECK((heard(stand, trial, heron, 1, 1) != first));
    CHECK((heard(stand, trial, heron, 2, 0) != first));
    CHECK((heard(stand, trial, "Heron 6, side, tweeters in", 1, 0) != first));
    CHECK((heard(stand, trialOf({ SessionHost::named("Heron 6") }, "abd"), heron, 1, 0) != first));
    CHECK((heard(stand, trial, heron, 1, 0, 96000.0) != first));
    CHECK((heard(stand, trial, heron, 1, 0) == first));
}

TEST_CASE("Another pair added to the trial leaves the room of the first as it was")
{
    PracticeStand stand;
    const auto first = heard(stand, trialOf({ SessionHost::named("Heron 6") }), heron, 1, 0);
    const auto both = trialOf({ SessionHost::named("Heron 6"), SessionHost::named("Osier 8") });
    const auto second = heard(stand, both, heron, 1, 0);
    double worst = 0.0;
    for (std::size_t i = 0; i < first.size(); ++i)
        worst = std::max<double>(worst, std::abs(first[i] - second[i]));
    CHECK(worst < 1e-6);
}

namespace
{

/** Error of each known value against the room's truth, over what its noise predicts. */
void checkAgainstTruth(const FrequencyResponse& curve, const PracticeRoom& room, const RealisedPath& path)
{
    std::size_t known = 0, within = 0;
    double worst = 0.0;
    for (std::size_t i = 2; i < curve.frequencyHz.size() - 2; i += 4)
    {
        if (!curve.known[i] || curve.frequencyHz[i] < 100.0)
            continue;
        const double error =
            std::abs(curve.levelDb[i] - smoothedTruthDb(room, path, curve.frequencyHz[i], 12));
        ++known;
        within += error <= 0.5 ? 1 : 0;
        worst = std::max(worst, error);
    }
    INFO(worst << " dB at the most, " << known << " known");
    CHECK(known > 70);
    CHECK(within == known);
}

/** The room of the plugin's first trial, made anew from its parts. */
PracticeRoom roomOf(const Trial& trial)
{
    auto scenario = shipped("three-pairs.json");
    scenario.monitors.resize(1);
    scenario.stances.resize(3);
    return PracticeRoom(scenario, 48000.0, seedOf(trial.id));
}

}

TEST_CASE("A take in the practice room reads the room's truth, is filed, and nothing of it is heard")
{
    const TemporarySettings settings;
    SessionHost host;
    host.mix = 0.25f;
    host.beginWith(); // the page of care is not read: nothing sounds
    host.session().newTrial("Practice", "");
    host.session().setPlan({ -20.0, 3.0, 20.0, 20000.0 });
    host.session().usePracticeRoom(true);
    host.step();
    const std::vector<int> sizes{ 0, 1, 8192, 333, 64, 511, 4096, 0, 63 };
    host.nextFrames = [&, i = std::size_t{ 0 }]() mutable { return sizes[i++ % sizes.size()]; };
    host.take();
    CHECK(host.codes() == Codes{});
    const auto view = host.view();
    const auto curves = newestOf(*view, heron);
    REQUIRE(curves);
    const auto room = roomOf(*view->trial.trial);
    const TakeLabel label{ 0, 0, 0, 0 };
    for (const auto side : { RoomSide::left, RoomSide::right })
        checkAgainstTruth(side == RoomSide::left ? curves->left : *curves->right, room,
                          room.path(room.standing(0, 0), side, room.jitteredPosition(label)));
    // Filed, and what was recorded is the room and not the wire.
    const auto trial = opened(view->trial.folder);
    REQUIRE(trial.takes.size() == 1);
    CHECK(faultOfTake(view->trial.folder, trial.takes[0]) == "");
    // The mix, faded out and back, is all that left.
    float step = 0.0f;
    for (std::size_t i = 1; i < host.left.size(); ++i)
        step = std::max(
            { step, std::abs(host.left[i] - host.left[i - 1]), std::abs(host.right[i] - host.right[i - 1]) });
    CHECK(step <= 0.25f / 950.0f);
    CHECK(host.loudestFrom(0) <= 0.25f);
    CHECK(*std::min_element(host.left.begin(), host.left.end()) == 0.0f);
    host.pump(40);
    CHECK(host.left.back() == 0.25f); // and it came back
}

TEST_CASE("The practice room is switched on and off between takes, and each take is of where it was taken")
{
    const TemporarySettings settings;
    SessionHost host;
    host.beginReady();
    const auto flat = [&]
    {
        const auto curves = newestOf(*host.view(), heron);
        REQUIRE(curves);
        double worst = 0.0;
        for (std::size_t i = 0; i < curves->left.levelDb.size(); ++i)
            if (curves->left.known[i])
                worst = std::max(worst, std::abs(curves->left.levelDb[i]));
        return worst < 0.1;
    };
    std::size_t takes = 0;
    for (const bool practice : { true, false, false, true, true, false })
    {
        host.session().usePracticeRoom(practice);
        const auto from = host.played();
        host.take();
        CHECK(host.codes() == Codes{});
        REQUIRE(host.view()->trial.trial->takes.size() == ++takes);
        CHECK(flat() == !practice);
        CHECK((host.loudestFrom(from) == 0.0f) == practice);
        host.pump(3);
        // Given back: a wire's block is metered again, not the room's noise.
        static_cast<void>(host.session().live());
        host.pump(2);
        CHECK(host.session().live().microphonePeakDbfs == -200.0f);
    }
}

TEST_CASE("A take in the practice room is stopped by whatever stops a real one, and the next one works")
{
    const TemporarySettings settings;
    SessionHost host;
    host.beginReady();
    host.session().usePracticeRoom(true);
    host.session().startTake();
    REQUIRE(host.runIntoTheSweep());
    std::string code;
    SECTION("stop")
    {
        host.session().stop();
        code = "stopped";
    }
    SECTION("window closed")
    {
        host.session().windowClosed();
        code = "window-closed";
    }
    SECTION("render begun: the mix is faded out, so the file would hold a gap")
    {
        host.processor.setNonRealtime(true);
        code = "offline-render";
    }
    SECTION("rate changed")
    {
        host.prepare(44100.0);
        code = "stream-changed";
    }
    SECTION("host stopped")
    {
        host.processor.releaseResources();
        code = "host-stopped";
    }
    host.pump(8);
    CHECK(host.codes() == Codes{ code });
    CHECK(host.view()->trial.trial->takes.empty());
    CHECK(host.loudestFrom(0) == 0.0f);
    host.processor.setNonRealtime(false);
    host.prepare(48000.0);
    host.take();
    CHECK(host.codes() == Codes{});
    CHECK(host.view()->trial.trial->takes.size() == 1);
}

TEST_CASE("The practice room switched on in the middle of a real take changes nothing of it")
{
    const TemporarySettings settings;
    SessionHost host;
    host.beginReady();
    host.session().startTake();
    REQUIRE(host.runIntoTheSweep());
    host.session().usePracticeRoom(true);
    host.finishTake();
    CHECK(host.codes() == Codes{});
    const auto curves = newestOf(*host.view(), heron);
    REQUIRE(curves);
    CHECK(curves->left.levelDb[240] == Approx(0.0).margin(0.05));
    CHECK(curves->right->levelDb[240] == Approx(0.0).margin(0.05));
}
