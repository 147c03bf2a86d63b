// What could pass here for the wrong reason: a thread that is never woken. The result must come although
// nobody steps by hand; the audio runs on a thread of its own, so that the thread sanitizer sees every
// meeting.

#include "Plugin/PlumblineProcessor.h"

#include <atomic>
#include <catch2/catch.hpp>
#include <thread>

using namespace plumbline;

namespace
{
/** Audio that runs freely: a wire from output to Return. */
void runAudio(PlumblineProcessor& processor, const std::atomic<bool>& over)
{
    juce::AudioBuffer<float> buffer(4, 512);
    buffer.clear();
    juce::MidiBuffer midi;
    while (!over.load())
    {
        buffer.clear(0, 0, 512);
        buffer.clear(1, 0, 512);
        processor.processBlock(buffer, midi);
        for (int channel = 2; channel < 4; ++channel)
        {
            buffer.copyFrom(channel, 0, buffer, 0, 0, 512);
            buffer.addFrom(channel, 0, buffer, 1, 0, 512);
        }
        std::this_thread::yield();
    }
}
}

TEST_CASE(
    "With its own thread the processor takes, analyses and publishes, and can be stopped from any thread")
{
    PlumblineProcessor processor(AnalysisDrive::thread);
    processor.setRateAndBufferSizeDetails(48000.0, 512);
    processor.prepareToPlay(48000.0, 512);
    std::atomic<bool> over{ false };
    std::thread audio([&] { runAudio(processor, over); });
    TakeRequest request;
    request.stimulus.seconds = 1.0;
    auto waitFor = [&](std::uint64_t number)
    {
        auto latest = processor.takeStatus().latest;
        while (latest == nullptr || latest->number < number)
        {
            std::this_thread::yield();
            latest = processor.takeStatus().latest;
        }
        return latest;
    };
    REQUIRE_FALSE(processor.requestTake(request));
    const auto whole = waitFor(1);
    CHECK(whole->analysis != nullptr);
    // The audio runs freely, so a take is soon over; an armed one waits to be stopped.
    request.startAtOnce = false;
    REQUIRE_FALSE(processor.requestTake(request));
    while (processor.takeStatus().phase != TakePhase::armed)
        std::this_thread::yield();
    processor.stopTake();
    const auto stopped = waitFor(2);
    REQUIRE(stopped->problem);
    CHECK(stopped->problem->code == "stopped");
    over = true;
    audio.join();
}

TEST_CASE("A processor can be destroyed in mid-take")
{
    for (int i = 0; i < 3; ++i)
    {
        PlumblineProcessor processor(AnalysisDrive::thread);
        processor.setRateAndBufferSizeDetails(48000.0, 512);
        processor.prepareToPlay(48000.0, 512);
        std::atomic<bool> over{ false };
        TakeRequest request;
        request.stimulus.seconds = 1.0;
        request.startAtOnce = false;
        REQUIRE_FALSE(processor.requestTake(request));
        std::thread audio([&] { runAudio(processor, over); });
        while (processor.takeStatus().phase != TakePhase::armed)
            std::this_thread::yield();
        processor.startTake();
        over = true; // hosts stop the audio before they destroy
        audio.join();
        processor.releaseResources();
    }
    SUCCEED("destroyed");
}
