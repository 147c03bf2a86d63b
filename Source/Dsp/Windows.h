#pragma once

#include <cstddef>
#include <span>

namespace plumbline
{

/** Rising half of a Hann window at point `index` of `count`: (1 - cos(pi (index + 1/2) / count)) / 2, in (0,
    1). */
double halfCosine(std::size_t index, std::size_t count) noexcept;

/** Multiplies the first `count` samples by a rising half-cosine. `count` is cut to the length of `samples`.
    */
void fadeIn(std::span<double> samples, std::size_t count) noexcept;

/** Multiplies the last `count` samples by a falling half-cosine. `count` is cut to the length of `samples`.
    */
void fadeOut(std::span<double> samples, std::size_t count) noexcept;

/** Modified Bessel function of the first kind, order zero, by its power series (DLMF 10.25.2); relative error
    under 1e-14 for |x| <= 50. */
double besselI0(double x) noexcept;

/** Kaiser window at x in [-1, 1] (0 outside): I0(beta sqrt(1 - x^2)) / I0(beta). Kaiser & Schafer 1980. */
double kaiser(double x, double beta) noexcept;

}
