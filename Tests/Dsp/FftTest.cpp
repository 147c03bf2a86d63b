// What could pass here for the wrong reason: a transform compared with its own inverse only (a wrong sign or
// scale cancels). The oracle is the sum of the definition.

#include "Dsp/Fft.h"
#include "Dsp/Random.h"

#include <catch2/catch.hpp>
#include <numbers>

using namespace plumbline;

namespace
{
std::complex<double> bySum(const std::vector<double>& x, std::size_t k)
{
    std::complex<double> sum = 0.0;
    for (std::size_t n = 0; n < x.size(); ++n)
        sum += x[n] * std::polar(1.0, -2.0 * std::numbers::pi * static_cast<double>(k * n % x.size()) /
                                          static_cast<double>(x.size()));
    return sum;
}
}

TEST_CASE("A transform is the sum of the definition, at lengths of every factor")
{
    Random random(1);
    for (const std::size_t length : { 2u, 16u, 30u, 210u, 486u })
    {
        std::vector<double> x(length);
        for (auto& value : x)
            value = random.normal();
        SpectrumBuffer buffer(length);
        std::copy(x.begin(), x.end(), buffer.samples());
        buffer.forward();
        for (std::size_t k = 0; k <= length / 2; ++k)
            CHECK(std::abs(buffer.bins()[k] - bySum(x, k)) < 1e-11);
        buffer.inverseUnscaled();
        for (std::size_t n = 0; n < length; ++n)
            CHECK(buffer.samples()[n] / static_cast<double>(length) == Approx(x[n]).margin(1e-12));
    }
}

TEST_CASE("A transform of a length is planned once and shared")
{
    CHECK(Fft::ofLength(1024) == Fft::ofLength(1024));
    CHECK(Fft::ofLength(1024) != Fft::ofLength(2048));
}

TEST_CASE("The fast length is the next even product of 2, 3, 5 and 7")
{
    CHECK(fastTransformLength(1) == 2);
    CHECK(fastTransformLength(11) == 12);
    CHECK(fastTransformLength(121) == 126);
    CHECK(fastTransformLength(262144) == 262144);
    CHECK(fastTransformLength(262145) == 262440); // 2^3 3^8 5
}

TEST_CASE("Wisdom can be kept and taken back; other text is refused")
{
    Fft::tune(256, 0.2);
    const auto text = Fft::wisdom();
    CHECK(text.find("fftw") != std::string::npos);
    CHECK(Fft::adoptWisdom(text));
    CHECK_FALSE(Fft::adoptWisdom("not wisdom at all"));
}
