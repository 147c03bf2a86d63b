// What could pass here for the wrong reason: a fault that is named but leaves the processor stuck. After each
// fault the next take must work.

#include "Support/LoopHost.h"

#include "Dsp/Random.h"

#include <catch2/catch.hpp>
#include <limits>

using namespace plumbline;
using test::LoopHost;

namespace
{
void checkNextTakeWorks(LoopHost& host)
{
    host.disturb = {};
    host.processor.acknowledge();
    REQUIRE_FALSE(host.processor.requestTake(host.request()));
    const auto result = host.takeResult();
    REQUIRE(result != nullptr);
    CHECK_FALSE(result->problem);
    CHECK(result->analysis != nullptr);
}

/** Ends with the reason, in words, the output silent and no capture. */
void checkFailure(LoopHost& host, const std::string& code)
{
    const auto result = host.takeResult();
    REQUIRE(result != nullptr);
    REQUIRE(result->problem);
    CHECK(result->problem->code == code);
    CHECK(result->problem->sentence().size() > 20);
    CHECK(result->analysis == nullptr);
    host.block();
    CHECK(host.loudest == 0.0f);
}
}

TEST_CASE("A take that is stopped in its sweep says why, falls silent, and the next one works")
{
    LoopHost host;
    REQUIRE_FALSE(host.processor.requestTake(host.request()));
    REQUIRE(host.runIntoTheSweep());
    CHECK(host.loudest > 0.0f);
    std::string code;
    SECTION("stop")
    {
        host.processor.stopTake();
        code = "stopped";
    }
    SECTION("clipping Return")
    {
        host.disturb = [](float* microphone, int frames) { std::fill_n(microphone, frames, 1.0f); };
        code = "overload";
    }
    SECTION("not a number")
    {
        host.disturb = [](float* microphone, int)
        { microphone[3] = std::numeric_limits<float>::quiet_NaN(); };
        code = "not-finite";
    }
    SECTION("infinity")
    {
        host.disturb = [](float* microphone, int) { microphone[3] = std::numeric_limits<float>::infinity(); };
        code = "not-finite";
    }
    SECTION("runaway")
    {
        host.disturb = [level = 0.001f](float* microphone, int frames) mutable
        {
            for (int i = 0; i < frames; ++i)
                microphone[i] = (i % 2 == 0 ? 1.0f : -1.0f) * std::min(0.99f, level *= 1.001f);
        };
        code = "runaway";
    }
    SECTION("the sample rate changes")
    {
        host.processor.prepareToPlay(44100.0, 512);
        code = "stream-changed";
    }
    SECTION("the host stops")
    {
        host.processor.releaseResources();
        code = "host-stopped";
    }
    SECTION("a render begins")
    {
        host.processor.setNonRealtime(true);
        code = "offline-render";
    }
    checkFailure(host, code);
    host.processor.setNonRealtime(false);
    host.processor.prepareToPlay(48000.0, 512);
    checkNextTakeWorks(host);
}

TEST_CASE("A stop counts at whichever point it comes, and an old one does not stop the next take")
{
    LoopHost host;
    REQUIRE_FALSE(host.processor.requestTake(host.request()));
    SECTION("before the analysis side has seen the request")
    {
        host.processor.stopTake();
    }
    SECTION("when it is lent, before the first block")
    {
        host.processor.stepAnalysis();
        host.processor.stopTake();
    }
    const auto result = host.takeResult();
    REQUIRE(result->problem);
    CHECK(result->problem->code == "stopped");
    CHECK(host.loudest == 0.0f);
    host.processor.stopTake(); // with nothing under way
    checkNextTakeWorks(host);
}

TEST_CASE("A silent Return is said to be silent, and the capture is kept")
{
    LoopHost host;
    const auto wire = host.room;
    host.room = [](const juce::AudioBuffer<float>& played, float* microphone, float* reference)
    {
        std::fill_n(microphone, played.getNumSamples(), 0.0f);
        std::fill_n(reference, played.getNumSamples(), 0.0f);
    };
    REQUIRE_FALSE(host.processor.requestTake(host.request()));
    const auto result = host.takeResult();
    REQUIRE(result->problem);
    CHECK(result->problem->code == "silent-microphone");
    CHECK(result->capture != nullptr);
    host.room = wire;
    checkNextTakeWorks(host);
}

TEST_CASE("Without a Return no take begins, and it is said why")
{
    LoopHost host;
    juce::AudioProcessor::BusesLayout layout = host.processor.getBusesLayout();
    layout.inputBuses.getReference(1) = juce::AudioChannelSet::disabled();
    REQUIRE(host.processor.setBusesLayout(layout));
    REQUIRE_FALSE(host.processor.requestTake(host.request()));
    juce::MidiBuffer midi;
    juce::AudioBuffer<float> buffer(2, 512);
    buffer.clear();
    for (int i = 0; i < 10 && host.number() == 0; ++i)
    {
        host.processor.stepAnalysis();
        host.processor.processBlock(buffer, midi);
    }
    host.processor.stepAnalysis();
    const auto result = host.processor.takeStatus().latest;
    REQUIRE(result != nullptr);
    CHECK(result->problem->code == "no-return");
}

TEST_CASE("A second request while one is under way is refused, and what cannot be made is said")
{
    LoopHost host;
    REQUIRE_FALSE(host.processor.requestTake(host.request()));
    const auto refusal = host.processor.requestTake(host.request());
    REQUIRE(refusal);
    CHECK(refusal->code == "busy");
    static_cast<void>(host.takeResult());
    auto impossible = host.request();
    impossible.stimulus.band.toHz = 90000.0;
    REQUIRE_FALSE(host.processor.requestTake(impossible));
    CHECK(host.takeResult()->problem->code == "sweep-impossible");
    auto loud = host.request();
    loud.stimulus.levelDbfs = 0.0;
    REQUIRE_FALSE(host.processor.requestTake(loud));
    CHECK(host.takeResult()->problem->code == "stimulus-impossible");
    checkNextTakeWorks(host);
}
