// What could pass here for the wrong reason: pulses on grid points only, where any window is right.

#include "PracticeRoom/BandPulses.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <complex>
#include <numbers>
#include <vector>

using namespace plumbline;

namespace
{
std::complex<double> transformed(const std::vector<double>& samples, double cycles)
{
    std::complex<double> sum = 0.0;
    for (std::size_t n = 0; n < samples.size(); ++n)
        sum += samples[n] * std::polar(1.0, -2.0 * std::numbers::pi * cycles * static_cast<double>(n));
    return sum;
}
}

TEST_CASE("A pulse at any time is a pure delay once the window is divided out")
{
    double worst = 0.0;
    for (double time : { 40.0, 40.001, 40.123, 40.5, 40.8765, 40.9999, 41.0 })
    {
        BandPulses pulses(96, 2);
        const float gains[4] = { 1.0f, 0.5f, 0.0f, -2.0f };
        pulses.add(1, BandPulses::weightsAt(time), gains);
        std::vector<double> band(96);
        for (std::size_t lane = 0; lane < 4; ++lane)
        {
            pulses.copyBand(4 + lane, band.data());
            for (double cycles = 0.0; cycles <= 0.25; cycles += 0.01)
            {
                const std::complex<double> got =
                    transformed(band, cycles) / BandPulses::windowSpectrum(cycles);
                const std::complex<double> want = static_cast<double>(gains[lane]) *
                                                  std::polar(1.0, -2.0 * std::numbers::pi * cycles * time);
                worst = std::max(worst, std::abs(got - want));
            }
        }
        pulses.copyBand(0, band.data());
        CHECK(std::abs(transformed(band, 0.0)) == 0.0); // the other group stays silent
    }
    INFO(worst);
    CHECK(worst < 1e-4); // for a strength of 2
    CHECK(worst > 0.0);
}
