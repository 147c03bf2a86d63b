#pragma once

#include <complex>

namespace plumbline
{

/** exp(j (first + n step)) for n = 0, 1, 2, ...: a product each instead of a sine and a cosine, computed anew
    every 64, so that rounding stays under 1e-14. */
class Turner
{
public:
    /** @param firstRadians, stepRadians any finite */
    Turner(double firstRadians, double stepRadians) noexcept
        : first(firstRadians), step(stepRadians), turn(std::polar(1.0, stepRadians))
    {
    }

    std::complex<double> next() noexcept
    {
        if (index % 64 == 0)
            now = std::polar(1.0, first + step * static_cast<double>(index));
        ++index;
        const auto value = now;
        now = { value.real() * turn.real() - value.imag() * turn.imag(),
                value.real() * turn.imag() + value.imag() * turn.real() };
        return value;
    }

private:
    double first, step;
    std::complex<double> turn, now;
    unsigned long long index = 0;
};

}
