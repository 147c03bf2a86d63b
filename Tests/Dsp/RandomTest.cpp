// What could pass here for the wrong reason: moments that are right for any symmetric density; so the tails
// are counted too.

#include "Dsp/Random.h"

#include <catch2/catch.hpp>
#include <cmath>

using namespace plumbline;

TEST_CASE("Normal deviates have the moments and tails of the normal law")
{
    Random random(42);
    constexpr int count = 400000;
    double sum = 0.0, square = 0.0, fourth = 0.0;
    int beyond = 0;
    for (int i = 0; i < count; ++i)
    {
        const double x = random.normal();
        sum += x;
        square += x * x;
        fourth += x * x * x * x;
        beyond += std::abs(x) > 1.959964 ? 1 : 0;
    }
    CHECK(sum / count == Approx(0.0).margin(0.006));
    CHECK(square / count == Approx(1.0).margin(0.01));
    CHECK(fourth / count == Approx(3.0).margin(0.08));
    CHECK(static_cast<double>(beyond) / count == Approx(0.05).margin(0.0015)); // two-sided 5 % point
}

TEST_CASE("A seed gives the same numbers again, and branches do not depend on what was drawn before")
{
    Random a(7), b(7);
    for (int i = 0; i < 100; ++i)
        CHECK(a.bits() == b.bits());
    CHECK(Random(7).branch(3).bits() == a.branch(3).bits());
    CHECK(Random(7).branch(3).bits() != Random(7).branch(4).bits());
    CHECK(Random(7).branch(3).bits() != Random(8).branch(3).bits());
}

TEST_CASE("The generator is xoshiro256** seeded by splitmix64")
{
    // The algorithms by Blackman & Vigna, written out again here from their published definition.
    std::uint64_t mixer = 1, s[4];
    for (auto& word : s)
    {
        std::uint64_t z = (mixer += 0x9e3779b97f4a7c15ull);
        z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9ull;
        z = (z ^ (z >> 27)) * 0x94d049bb133111ebull;
        word = z ^ (z >> 31);
    }
    CHECK(s[0] == 0x910a2dec89025cc1ull); // splitmix64 from 1: a widely published first value
    const std::uint64_t product = s[1] * 5;
    CHECK(Random(1).bits() == ((product << 7) | (product >> 57)) * 9);
}
