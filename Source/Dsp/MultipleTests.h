#pragma once

#include <span>
#include <vector>

namespace plumbline
{

/** P values adjusted for being many: one is called at level alpha where its adjusted value is at most
    alpha. Order is kept. NaN (nothing was tested) stays NaN and is not counted. */

/** Holm, Scand. J. Statist. 6 (1979) 65: the chance of any false call stays under alpha, however the tests
    hang together. */
std::vector<double> holmAdjusted(std::span<const double> p);

/** Benjamini and Hochberg, JRSS B 57 (1995) 289: the expected share of false calls stays under alpha, for
    independent or positively dependent tests. */
std::vector<double> benjaminiHochbergAdjusted(std::span<const double> p);

}
