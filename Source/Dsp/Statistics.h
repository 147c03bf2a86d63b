#pragma once

#include "Dsp/Random.h"

namespace plumbline
{

/** Regularised incomplete beta function I_x(a, b), a and b over 0, x in 0..1. By continued fraction (modified
    Lentz; DLMF 8.17.22); relative error about 1e-13. */
double regularisedBeta(double a, double b, double x) noexcept;

/** Regularised lower incomplete gamma function P(a, x), a over 0, x from 0. By series or continued fraction
    (DLMF 8.11.4, 8.9.2); relative error about 1e-13. */
double regularisedGamma(double a, double x) noexcept;

/** The normal law of mean 0 and standard deviation 1. */
double normalCdf(double x) noexcept;
double normalDensity(double x) noexcept;

/** Student's t with `df` degrees of freedom, any real number over 0 (Welch's are none that is whole). */
double studentTCdf(double t, double df) noexcept;

/** Chance that |t| is at least that large if nothing differs; exact in the far tail too. */
double studentTTwoSided(double t, double df) noexcept;

/** Inverse of studentTCdf, p in 0..1 (open). Relative error under 1e-11. */
double studentTQuantile(double p, double df) noexcept;

double chiSquareCdf(double x, double df) noexcept;
/** Inverse of chiSquareCdf, p in 0..1 (open). */
double chiSquareQuantile(double p, double df) noexcept;

/** A deviate of chi-square with `df` degrees of freedom, any real number over 0. Marsaglia and Tsang, ACM
    TOMS 26 (2000) 363. */
double drawChiSquare(Random& random, double df) noexcept;

}
