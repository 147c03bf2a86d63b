#include "PracticeRoom/RoomNoise.h"

#include "Core/Units.h"

#include <cassert>
#include <cmath>
#include <complex>
#include <numbers>
#include <vector>

namespace plumbline
{

namespace
{
// Found by a search for the least deviation from -10 lg f between 10 Hz and 22 kHz at 48 kHz (0.11 dB).
constexpr double ratio = 2.8;
constexpr double highestPole = 4.0 / 48000.0 * 1349.2928512; // 2.8^7 times 4 Hz, in cycles a sample
constexpr double lowestPoleHz = 4.5;
constexpr double endZero = -0.15, endPole = 0.05;
constexpr double warmUpSeconds = 0.25;
}

RoomNoise::RoomNoise(Colour colour, double levelDbfs, double sampleRateHz, Random source)
    : random(source), rate(sampleRateHz)
{
    if (colour == Colour::pink)
        design(sampleRateHz);
    const double scale = amplitudeFromDecibels(levelDbfs) / std::sqrt(meanPower());
    direct *= scale;
    for (double& gain : gains)
        gain *= scale;
    if (used > 0)
        for (int n = 0; n < static_cast<int>(warmUpSeconds * sampleRateHz); ++n)
            next();
}

/** Poles and zeros first, then the residue of each pole: prod_j (1 - z_j / p) / prod_(j != i) (1 - p_j / p).
 */
void RoomNoise::design(double sampleRateHz)
{
    std::vector<double> pole{ endPole }, zero{ endZero };
    double cycles = highestPole;
    for (bool more = true; more; cycles /= ratio)
    {
        pole.push_back(std::exp(-2.0 * std::numbers::pi * cycles));
        zero.push_back(std::exp(-2.0 * std::numbers::pi * cycles * std::sqrt(ratio)));
        more = cycles * sampleRateHz > lowestPoleHz;
    }
    used = pole.size();
    assert(used <= sections);
    direct = 1.0;
    for (std::size_t i = 0; i < used; ++i)
    {
        direct *= zero[i] / pole[i];
        double residue = 1.0;
        for (std::size_t j = 0; j < used; ++j)
            residue *= (1.0 - zero[j] / pole[i]) / (j == i ? 1.0 : 1.0 - pole[j] / pole[i]);
        poles[i] = pole[i];
        gains[i] = residue;
    }
}

double RoomNoise::next() noexcept
{
    const double white = random.normal();
    double sum = direct * white;
    for (std::size_t i = 0; i < sections; ++i) // unused ones hold zeros
    {
        states[i] = poles[i] * states[i] + white;
        sum += gains[i] * states[i];
    }
    return sum;
}

double RoomNoise::relativePower(double frequencyHz) const
{
    const auto powerAt = [this](double cycles)
    {
        std::complex<double> response = direct;
        for (std::size_t i = 0; i < used; ++i)
            response += gains[i] / (1.0 - poles[i] * std::polar(1.0, -2.0 * std::numbers::pi * cycles));
        return std::norm(response);
    };
    return powerAt(frequencyHz / rate) / meanPower();
}

/** Power for white noise of power 1: the sum of the squared impulse response, in closed form. */
double RoomNoise::meanPower() const
{
    double first = direct, later = 0.0;
    for (std::size_t i = 0; i < used; ++i)
    {
        first += gains[i];
        for (std::size_t j = 0; j < used; ++j)
            later += gains[i] * gains[j] * poles[i] * poles[j] / (1.0 - poles[i] * poles[j]);
    }
    return first * first + later;
}

}
