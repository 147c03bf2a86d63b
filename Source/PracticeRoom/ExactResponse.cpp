#include "PracticeRoom/ExactResponse.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

namespace plumbline
{

std::vector<std::complex<double>> exactResponse(std::span<const double> taps, double sampleRateHz,
                                                std::span<const double> frequenciesHz)
{
    constexpr std::size_t stretch = 64; // samples between exact phases: rounding does not grow beyond it
    std::vector<std::complex<double>> response;
    response.reserve(frequenciesHz.size());
    for (double frequencyHz : frequenciesHz)
    {
        const double cycles = frequencyHz / sampleRateHz;
        std::array<double, stretch> real, imaginary;
        for (std::size_t i = 0; i < stretch; ++i)
        {
            const std::complex<double> turn =
                std::polar(1.0, -2.0 * std::numbers::pi * cycles * static_cast<double>(i));
            real[i] = turn.real();
            imaginary[i] = turn.imag();
        }
        std::complex<double> sum = 0.0;
        for (std::size_t start = 0; start < taps.size(); start += stretch)
        {
            const std::size_t count = std::min(stretch, taps.size() - start);
            double re = 0.0, im = 0.0;
            for (std::size_t i = 0; i < count; ++i)
            {
                re += taps[start + i] * real[i];
                im += taps[start + i] * imaginary[i];
            }
            const double whole = cycles * static_cast<double>(start);
            sum += std::complex<double>(re, im) *
                   std::polar(1.0, -2.0 * std::numbers::pi * (whole - std::floor(whole)));
        }
        response.push_back(sum);
    }
    return response;
}

}
