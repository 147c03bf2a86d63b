#pragma once

namespace plumbline
{

/** The range of `groups` independent normal deviates over an independent estimate of their standard
    deviation with `df` degrees of freedom (Tukey). With it all pairs of a set are compared at once.

    By Gauss-Legendre integration of its two integrals (Harter, Ann. Math. Statist. 31 (1960) 1122); error
    under 1e-8 for 2..200 groups and df from 1. */
double studentisedRangeCdf(double q, int groups, double df);

/** Inverse of studentisedRangeCdf, p in 0..1 (open). Error under 1e-6 of the value. */
double studentisedRangeQuantile(double p, int groups, double df);

}
