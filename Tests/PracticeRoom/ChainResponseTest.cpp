// What could pass here for the wrong reason: a response that is right because it is never interpolated, or
// never held.

#include "PracticeRoom/ChainResponse.h"

#include <catch2/catch.hpp>
#include <cmath>

using namespace plumbline;

TEST_CASE("A microphone's response is linear in dB over log frequency and held outside its table")
{
    MicrophoneModel microphone;
    CHECK(microphoneResponseDb(microphone, 1000.0) == 0.0);
    microphone.response = { { 100.0, -2.0 }, { 400.0, 2.0 }, { 1600.0, 1.0 } };
    CHECK(microphoneResponseDb(microphone, 100.0) == Approx(-2.0));
    CHECK(microphoneResponseDb(microphone, 200.0) == Approx(0.0).margin(1e-12)); // half the way in octaves
    CHECK(microphoneResponseDb(microphone, 800.0) == Approx(1.5));
    CHECK(microphoneResponseDb(microphone, 0.0) == -2.0);
    CHECK(microphoneResponseDb(microphone, 20000.0) == 1.0);
}

TEST_CASE("An interface with a high-pass and a tilt has both")
{
    ConverterModel converter;
    CHECK(interfaceResponse(converter, 48000.0, 1000.0) == std::complex<double>(1.0));
    converter.highPassHz = 30.0;
    const auto level = [&](double f)
    { return 20.0 * std::log10(std::abs(interfaceResponse(converter, 48000.0, f))); };
    CHECK(level(30.0) == Approx(-3.0103).margin(1e-3)); // Butterworth of order 2
    CHECK(level(15.0) == Approx(-10.0 * std::log10(1.0 + 16.0)).margin(1e-3));
    CHECK(interfaceResponse(converter, 48000.0, 0.0) == std::complex<double>(0.0));
    CHECK(level(24000.0) == Approx(0.0).margin(1e-9));
    converter.highPassHz.reset();
    converter.tiltDb = 0.3;
    CHECK(level(5.0) == Approx(0.0).margin(1e-3));
    CHECK(level(632.0) == Approx(0.15).margin(1e-3));
    CHECK(level(20000.0) == Approx(0.3).margin(1e-3));
}

TEST_CASE("What is cut off below half the rate leaves the band of a sweep alone")
{
    for (double rate : { 44100.0, 48000.0, 96000.0 })
    {
        CHECK(belowNyquist(20000.0, rate) == 1.0);
        CHECK(belowNyquist(rate / 2.0, rate) == 0.0);
        CHECK(belowNyquist(0.4925 * rate, rate) == 0.0);
    }
}
