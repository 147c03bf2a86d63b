// What could pass here for the wrong reason: a crossover sum that is flat because both branches are wires
// (each branch is checked by itself), and a group delay read too coarsely to tell a wrong corner (it is
// compared to 1e-5).

#include "Dsp/AnalogFilters.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

using namespace plumbline;
using Complex = std::complex<double>;

namespace
{
constexpr double degree = std::numbers::pi / 180.0;

double decibels(Complex value)
{
    return 20.0 * std::log10(std::abs(value));
}

/** Phase slope by a central difference of relative width 2e-4: good to 1e-7 here. */
template <class Response>
double groupDelaySeconds(Response response, double frequencyHz)
{
    const double half = frequencyHz * 1e-4;
    const Complex turn = response(frequencyHz + half) / response(frequencyHz - half);
    return -std::arg(turn) / (2.0 * std::numbers::pi * 2.0 * half);
}

Complex crossoverSum(double frequencyHz)
{
    return analogue::linkwitzRiley4LowPass(frequencyHz, 2500.0) +
           analogue::linkwitzRiley4HighPass(frequencyHz, 2500.0);
}
}

TEST_CASE("A Linkwitz-Riley crossover of order 4 adds up to the all-pass of its closed form")
{
    // Closed form, computed by an independent script: LR4, fc 2.5 kHz; closed form tau = 2 sqrt2 (1 + W^2) /
    // ((1 + W^4) wc); printed by an outside program.
    struct Row
    {
        double frequencyHz, delayMicroseconds, phaseDegrees;
    };

    const Row rows[] = {
        { 100, 180.35090275428047, -6.485731368270808 },   { 500, 186.96664712527763, -32.832880747170925 },
        { 1000, 203.65969710262152, -67.91541097727257 },  { 1609, 217.35558607907416, -114.47092476747002 },
        { 2000, 209.49471601839585, -144.69806237616356 }, { 2500, 180.06326323142125, -180.0 },
        { 4000, 84.86353753228389, -249.1670204722806 },   { 8000, 19.119185384149787, -307.8114610689191 }
    };
    for (const Row& row : rows)
    {
        INFO(row.frequencyHz);
        CHECK(std::abs(crossoverSum(row.frequencyHz)) == Approx(1.0).margin(1e-12));
        CHECK(std::abs(crossoverSum(row.frequencyHz) - std::polar(1.0, row.phaseDegrees * degree)) < 1e-12);
        CHECK(groupDelaySeconds(crossoverSum, row.frequencyHz) * 1e6 ==
              Approx(row.delayMicroseconds).epsilon(1e-6));
    }
}

TEST_CASE("Each branch of the crossover is 6.02 dB down at the crossover and falls by 24 dB an octave")
{
    CHECK(decibels(analogue::linkwitzRiley4LowPass(2500.0, 2500.0)) == Approx(-6.0205999).margin(1e-6));
    CHECK(decibels(analogue::linkwitzRiley4HighPass(2500.0, 2500.0)) == Approx(-6.0205999).margin(1e-6));
    const double octaveFar = decibels(analogue::linkwitzRiley4LowPass(160000.0, 2500.0)) -
                             decibels(analogue::linkwitzRiley4LowPass(80000.0, 2500.0));
    CHECK(octaveFar == Approx(-24.08).margin(0.01));
    CHECK(analogue::linkwitzRiley4HighPass(0.0, 2500.0) == Complex(0.0));
}

TEST_CASE("Butterworth filters of every order are 3.01 dB down at the corner and flat as (1 + W^2n)")
{
    for (int order = 1; order <= 8; ++order)
        for (double ratio : { 0.1, 0.5, 1.0, 1.7, 4.0 })
        {
            INFO(order << ", " << ratio);
            const double power = 1.0 / (1.0 + std::pow(ratio, 2 * order)); // by definition
            CHECK(std::norm(analogue::butterworthLowPass(50.0 * ratio, 50.0, order)) ==
                  Approx(power).epsilon(1e-12));
            CHECK(std::norm(analogue::butterworthHighPass(50.0 / ratio, 50.0, order)) ==
                  Approx(power).epsilon(1e-12));
        }
    CHECK(std::arg(analogue::butterworthLowPass(50.0, 50.0, 1)) / degree == Approx(-45.0).margin(1e-12));
    CHECK(std::arg(analogue::butterworthHighPass(50.0, 50.0, 1)) / degree == Approx(45.0).margin(1e-12));
    CHECK(analogue::butterworthHighPass(0.0, 50.0, 0) == Complex(1.0));
}

TEST_CASE("A peak has its level and no phase at the centre, and the group delay of its closed form")
{
    // tau(f0) = 2 Q (A - 1/A) / (2 pi f0), the limit of 2 Q (A - 1/A) / sin w0 for a slow centre;
    // at 60 Hz and 48 kHz the digital one is 2477.1141924569606 samples and sin w0 / w0 brings it to the
    // analogue one.
    const auto peak = [](double f) { return analogue::peak(f, 60.0, 10.0, 8.0); };
    CHECK(decibels(peak(60.0)) == Approx(10.0).margin(1e-9));
    CHECK(std::arg(peak(60.0)) == Approx(0.0).margin(1e-12));
    const double w0 = 2.0 * std::numbers::pi * 60.0 / 48000.0;
    CHECK(groupDelaySeconds(peak, 60.0) * 48000.0 ==
          Approx(2477.1141924569606 * std::sin(w0) / w0).epsilon(1e-5));
    CHECK(decibels(peak(6.0)) == Approx(0.0).margin(0.01));
    CHECK(std::abs(analogue::peak(777.0, 820.0, 3.0, 2.0) * analogue::peak(777.0, 820.0, -3.0, 2.0)) ==
          Approx(1.0).epsilon(1e-12));
}

TEST_CASE("Shelves reach their level at one end, nothing at the other and half of it at the centre")
{
    for (double levelDb : { -6.0, 4.0 })
    {
        CHECK(decibels(analogue::firstOrderLowShelf(0.0, 200.0, levelDb)) == Approx(levelDb).margin(1e-9));
        CHECK(decibels(analogue::firstOrderLowShelf(200.0, 200.0, levelDb)) ==
              Approx(levelDb / 2).margin(1e-9));
        CHECK(decibels(analogue::firstOrderLowShelf(2e6, 200.0, levelDb)) == Approx(0.0).margin(1e-6));
        CHECK(decibels(analogue::firstOrderHighShelf(0.0, 200.0, levelDb)) == Approx(0.0).margin(1e-9));
        CHECK(decibels(analogue::firstOrderHighShelf(200.0, 200.0, levelDb)) ==
              Approx(levelDb / 2).margin(1e-9));
        CHECK(decibels(analogue::firstOrderHighShelf(2e6, 200.0, levelDb)) == Approx(levelDb).margin(1e-6));
        CHECK(decibels(analogue::secondOrderLowShelf(0.0, 200.0, levelDb, 0.7)) ==
              Approx(levelDb).margin(1e-9));
        CHECK(decibels(analogue::secondOrderLowShelf(200.0, 200.0, levelDb, 0.7)) ==
              Approx(levelDb / 2).margin(1e-9));
        CHECK(decibels(analogue::secondOrderLowShelf(2e6, 200.0, levelDb, 0.7)) == Approx(0.0).margin(1e-6));
        CHECK(decibels(analogue::secondOrderHighShelf(0.0, 200.0, levelDb, 0.7)) == Approx(0.0).margin(1e-9));
        CHECK(decibels(analogue::secondOrderHighShelf(2e6, 200.0, levelDb, 0.7)) ==
              Approx(levelDb).margin(1e-6));
    }
}
