#pragma once

#include <cstdint>

namespace plumbline
{

/** Seeded random numbers, the same on every platform (the standard library's distributions are not).

    xoshiro256** by Blackman and Vigna (public domain), seeded by splitmix64; normal deviates by the polar
    method of Marsaglia and Bray (1964). Cheap enough for one deviate a sample. */
class Random
{
public:
    explicit Random(std::uint64_t seed) noexcept;

    std::uint64_t bits() noexcept;

    /** Uniform in [0, 1). */
    double uniform() noexcept;

    /** Mean 0, standard deviation 1. */
    double normal() noexcept;

    /** A generator for a named part of the work, independent of how often this one was asked. */
    Random branch(std::uint64_t label) const noexcept;

private:
    std::uint64_t origin;
    std::uint64_t state[4];
    double spare = 0.0;
    bool hasSpare = false;
};

}
