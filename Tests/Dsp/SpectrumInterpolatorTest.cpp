// What could pass here for the wrong reason: frequencies that fall on bins. All asked here lie between them,
// and the oracle is the sum of the definition.

#include "Dsp/SpectrumInterpolator.h"
#include "Dsp/Fft.h"
#include "Dsp/Random.h"

#include <catch2/catch.hpp>
#include <numbers>

using namespace plumbline;

TEST_CASE("Between the bins the spectrum is that of the response itself, to 1e-6 of its size")
{
    constexpr std::size_t length = 4096, live = 2400;
    constexpr double rate = 48000.0;
    Random random(3);
    SpectrumBuffer buffer(length);
    std::vector<double> response(live);
    double energy = 0.0;
    for (std::size_t i = 0; i < live; ++i)
    {
        buffer.samples()[i] = response[i] = random.normal();
        energy += response[i] * response[i];
    }
    buffer.forward();
    const SpectrumInterpolator spectrum({ buffer.bins(), buffer.binCount() }, length, rate, live / 2.0);
    for (const double hz : { 3.7, 20.0, 333.333, 1000.0, 7777.7, 19999.0, 23990.0 })
    {
        std::complex<double> sum = 0.0;
        for (std::size_t n = 0; n < live; ++n)
            sum +=
                response[n] * std::polar(1.0, -2.0 * std::numbers::pi * hz * static_cast<double>(n) / rate);
        CHECK(std::abs(spectrum.at(hz) - sum) < 1e-6 * std::sqrt(energy));
    }
}
