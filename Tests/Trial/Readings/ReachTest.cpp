// What could pass here for the wrong reason: corners that are right for a cliff. The bass here falls along a
// straight line over octaves, so that each corner has a place of its own in closed form.

#include "Trial/Boards.h"

using namespace plumbline;
using namespace plumbline::test;

namespace
{
/** Falls by 24 dB an octave below a corner. */
Shape falling(double cornerHz)
{
    return [=](double hz) { return hz < cornerHz ? 24.0 * std::log2(hz / cornerHz) : 0.0; };
}
}

TEST_CASE("Reach is where the level, a third of an octave wide, is 3, 6 and 10 dB down")
{
    // Mean power over a third of an octave of a slope s dB an octave, h = s ln10/10 / 6 nepers to each side:
    // sinh(h)/h.
    const double h = 24.0 * std::log(10.0) / 10.0 / 6.0, gain = 10.0 * std::log10(std::sinh(h) / h);
    for (const auto& [name, down] : { std::pair{ "reach, -10 dB", 10.0 }, std::pair{ "reach, -6 dB", 6.0 } })
    {
        const double exact = 100.0 * std::exp2(-(down + gain) / 24.0);
        CHECK(valueOf(name, oneTake(falling(100.0))).value == Approx(exact).epsilon(0.002));
    }
    CHECK(valueOf("reach, -3 dB", oneTake(falling(100.0))).value >
          valueOf("reach, -6 dB", oneTake(falling(100.0))).value);
}

TEST_CASE(
    "Reach is unknown where the bass holds to the end of what is known, and means over sides are of octaves")
{
    CHECK_FALSE(valueOf("reach, -6 dB", oneTake(flat(0))).known());
    CHECK_FALSE(valueOf("reach, -6 dB", oneTake(falling(18.0))).known());
    const double low = valueOf("reach, -6 dB", oneTake(falling(50.0))).value;
    const double high = valueOf("reach, -6 dB", oneTake(falling(100.0))).value;
    const std::vector<StanceData> unlike{ stanceOf("Heron 6, upright",
                                                   { takeOf(falling(50.0), falling(100.0)) }) };
    CHECK(valueOf("reach, -6 dB", unlike).value == Approx(std::sqrt(low * high)).epsilon(0.001));
}

TEST_CASE("Reach has an interval over octaves")
{
    const std::vector<StanceData> two{ stanceOf(
        "Heron 6, upright", { takeOf(falling(50), falling(50)), takeOf(falling(60), falling(60)) }) };
    const auto value = valueOf("reach, -6 dB", two);
    CHECK(value.high / value.value == Approx(value.value / value.low));
    CHECK(value.plusMinus == Approx(value.high - value.value));
}
