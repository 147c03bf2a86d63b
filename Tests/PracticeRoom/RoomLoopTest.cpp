// What could pass here for the wrong reason: a convolution that is right only for the blocks it was tried
// with (cuts are random, down to nothing and up to 8192), and a comparison with our own fast convolution
// (the oracle is the sum of products itself).

#include "PracticeRoom/RoomLoop.h"

#include <catch2/catch.hpp>
#include <chrono>
#include <cmath>
#include <cstdio>
#include <ctime>

using namespace plumbline;

namespace
{
struct Heard
{
    std::vector<float> microphone, reference;
};

/** `silence` zeros, then decaying noise. */
std::vector<double> someTaps(std::size_t silence, std::size_t count, std::uint64_t seed)
{
    Random random(seed);
    std::vector<double> taps(count, 0.0);
    for (std::size_t n = silence; n < count; ++n)
        taps[n] = random.normal() * std::exp(-static_cast<double>(n) / 900.0);
    return taps;
}

/** Bursts with silence between them and at the end, a side at a time and both. */
std::array<std::vector<float>, 2> someMusic(std::size_t count)
{
    Random random(99);
    std::array<std::vector<float>, 2> sides{ std::vector<float>(count), std::vector<float>(count) };
    for (std::size_t n = 0; n < count; ++n)
    {
        const std::size_t part = n * 10 / count;
        if (part == 1 || part == 3)
            sides[0][n] = static_cast<float>(random.normal());
        if (part == 3 || part == 6)
            sides[1][n] = static_cast<float>(random.normal());
    }
    return sides;
}

Heard playThrough(const RoomLoop::Spec& spec, const std::array<std::vector<float>, 2>& played,
                  std::uint64_t cutSeed, std::size_t mostFrames)
{
    RoomLoop loop(spec, Random(17));
    Random random(cutSeed);
    Heard heard{ std::vector<float>(played[0].size()), std::vector<float>(played[0].size()) };
    for (std::size_t done = 0; done < played[0].size();)
    {
        const auto asked = static_cast<std::size_t>(random.uniform() * static_cast<double>(mostFrames + 1));
        const std::size_t now = std::min(asked, played[0].size() - done);
        const float* in[2] = { played[0].data() + done, played[1].data() + done };
        loop.process(in, static_cast<int>(now), heard.microphone.data() + done,
                     heard.reference.data() + done);
        done += now;
    }
    return heard;
}

double sumOfProducts(const std::vector<double>& taps, const std::vector<float>& played, std::size_t n)
{
    double sum = 0.0;
    for (std::size_t k = 0; k <= n && k < taps.size(); ++k)
        sum += taps[k] * static_cast<double>(played[n - k]);
    return sum;
}

/** One rounding to float, and 1e-12 of the signal's size (tens) for the fast convolution. */
bool agrees(float got, double want)
{
    return std::abs(static_cast<double>(got) - want) <= 6.0e-8 * std::abs(want) + 3e-11;
}
}

TEST_CASE("The loop gives the sum of products, whatever the silence before the responses")
{
    for (std::size_t silence : { 1u, 7u, 64u, 511u, 512u, 700u })
    {
        RoomLoop::Spec spec;
        spec.taps = { someTaps(silence, 2900, 1), someTaps(silence + 40, 2000, 2) };
        spec.referenceTaps = someTaps(silence, 600 + silence, 3);
        const auto played = someMusic(16000);
        const Heard heard = playThrough(spec, played, 5, 700);
        INFO(silence);
        CHECK(RoomLoop(spec, Random(1)).partition() <= std::min<std::size_t>(silence, 512));
        std::size_t wrong = 0;
        for (std::size_t n = 0; n < played[0].size(); n += 3)
        {
            const double room =
                sumOfProducts(spec.taps[0], played[0], n) + sumOfProducts(spec.taps[1], played[1], n);
            const double back = sumOfProducts(spec.referenceTaps, played[0], n) +
                                sumOfProducts(spec.referenceTaps, played[1], n);
            wrong += agrees(heard.microphone[n], room) && agrees(heard.reference[n], back) ? 0 : 1;
        }
        CHECK(wrong == 0);
    }
}

TEST_CASE("The loop gives the same bits however the stream is cut, noise included")
{
    RoomLoop::Spec spec;
    spec.taps = { someTaps(640, 9000, 1), someTaps(700, 9000, 2) };
    spec.referenceTaps.assign(640, 0.0);
    spec.referenceTaps.push_back(1.0);
    spec.noise = RoomLoop::Noise{ -50.0, MicrophoneModel::NoiseColour::pink };
    const auto played = someMusic(60000);
    const Heard whole = playThrough(spec, played, 1, 60000);
    for (std::size_t most : { 1u, 64u, 513u, 8192u })
    {
        const Heard cut = playThrough(spec, played, most, most);
        INFO(most);
        CHECK(cut.microphone == whole.microphone);
        CHECK(cut.reference == whole.reference);
    }
}

TEST_CASE("A loopback without a response of its own is the sum of both sides, late by the latency")
{
    RoomLoop::Spec spec;
    spec.referenceTaps.assign(640, 0.0);
    spec.referenceTaps.push_back(1.0);
    const auto played = someMusic(5000);
    const Heard heard = playThrough(spec, played, 3, 100);
    for (std::size_t n = 0; n < 5000; ++n)
    {
        const float want = n < 640 ? 0.0f
                                   : static_cast<float>(static_cast<double>(played[0][n - 640]) +
                                                        static_cast<double>(played[1][n - 640]));
        REQUIRE(heard.reference[n] == want);
        REQUIRE(heard.microphone[n] == 0.0f); // no path to the microphone
    }
}

TEST_CASE("Without loopback the reference is silent, and after the tail the room is silent")
{
    RoomLoop::Spec spec;
    spec.taps = { someTaps(512, 3000, 1), {} };
    auto played = someMusic(20000); // ends with 30 % of silence
    const Heard heard = playThrough(spec, played, 3, 300);
    std::size_t sounding = 0;
    for (std::size_t n = 0; n < 20000; ++n)
    {
        REQUIRE(heard.reference[n] == 0.0f);
        sounding += heard.microphone[n] != 0.0f ? 1 : 0;
    }
    CHECK(sounding > 4000);
    for (std::size_t n = 8000 + 3000 + 1024; n < 20000; ++n)
        REQUIRE(heard.microphone[n] == 0.0f);
}

TEST_CASE("Noise is added to what the room gives, and is another for another seed")
{
    RoomLoop::Spec spec;
    spec.taps = { someTaps(512, 3000, 1), {} };
    spec.noise = RoomLoop::Noise{ -40.0, MicrophoneModel::NoiseColour::white };
    const std::vector<float> silence(48000, 0.0f);
    const float* in[2] = { silence.data(), silence.data() };
    std::vector<float> first(48000), second(48000), reference(48000);
    RoomLoop(spec, Random(1)).process(in, 48000, first.data(), reference.data());
    RoomLoop(spec, Random(2)).process(in, 48000, second.data(), reference.data());
    CHECK(first != second);
    double power = 0.0;
    for (float sample : first)
        power += static_cast<double>(sample) * static_cast<double>(sample) / 48000.0;
    CHECK(10.0 * std::log10(power) ==
          Approx(-40.0).margin(0.15)); // s.d. of the mean of 48,000 squares: 0.03 dB
}

TEST_CASE("Speed of the loop: two paths of 2^15 taps with noise at 48 kHz", "[.bench]")
{
    RoomLoop::Spec spec;
    spec.taps = { someTaps(640, 32768, 1), someTaps(640, 32768, 2) };
    spec.referenceTaps.assign(640, 0.0);
    spec.referenceTaps.push_back(1.0);
    spec.noise = RoomLoop::Noise{};
    Random random(4);
    std::vector<float> in(512), microphone(512), reference(512);
    for (float& sample : in)
        sample = static_cast<float>(random.normal());
    const float* played[2] = { in.data(), in.data() };
    for (int block : { 64, 512 })
    {
        RoomLoop loop(spec, Random(1));
        double best = 1e9;
        for (int repeat = 0; repeat < 9; ++repeat)
        {
            const std::clock_t before = std::clock(); // this process has one thread
            for (int n = 0; n < 96000; n += block)
                loop.process(played, block, microphone.data(), reference.data());
            best = std::min(best, static_cast<double>(std::clock() - before) / CLOCKS_PER_SEC);
        }
        std::printf("room loop, block %d: %.0f ns a frame, %.0f times real time\n", block,
                    best / 96000.0 * 1e9, 2.0 / best);
        CHECK(best < 2.0);
    }
}
