#include "Dsp/Random.h"

#include <bit>
#include <cmath>

namespace plumbline
{

namespace
{
std::uint64_t splitMix(std::uint64_t& state) noexcept
{
    std::uint64_t z = (state += 0x9e3779b97f4a7c15u);
    z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9u;
    z = (z ^ (z >> 27)) * 0x94d049bb133111ebu;
    return z ^ (z >> 31);
}
}

Random::Random(std::uint64_t seed) noexcept : origin(seed)
{
    std::uint64_t mixer = seed;
    for (auto& word : state)
        word = splitMix(mixer);
}

std::uint64_t Random::bits() noexcept
{
    const std::uint64_t result = std::rotl(state[1] * 5, 7) * 9;
    const std::uint64_t shifted = state[1] << 17;
    state[2] ^= state[0];
    state[3] ^= state[1];
    state[1] ^= state[2];
    state[0] ^= state[3];
    state[2] ^= shifted;
    state[3] = std::rotl(state[3], 45);
    return result;
}

double Random::uniform() noexcept
{
    return static_cast<double>(bits() >> 11) * 0x1.0p-53;
}

double Random::normal() noexcept
{
    if (hasSpare)
    {
        hasSpare = false;
        return spare;
    }
    double u, v, radius;
    do
    {
        u = 2.0 * uniform() - 1.0;
        v = 2.0 * uniform() - 1.0;
        radius = u * u + v * v;
    } while (radius >= 1.0 || radius == 0.0);
    const double scale = std::sqrt(-2.0 * std::log(radius) / radius);
    spare = v * scale;
    hasSpare = true;
    return u * scale;
}

Random Random::branch(std::uint64_t label) const noexcept
{
    std::uint64_t mixer = origin ^ (label * 0xd1342543de82ef95u);
    return Random(splitMix(mixer));
}

}
