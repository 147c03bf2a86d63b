#include "Dsp/Statistics.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace plumbline
{

namespace
{
constexpr double tiny = 1e-300;
constexpr double smallestStep = 1e-16;
constexpr int mostSteps = 10000;

/** ln of the gamma function for x over 0: Stirling's series (DLMF 5.11.1) after a shift to x >= 12. (The
    library's own writes a global.) */
double logGamma(double x) noexcept
{
    double shift = 0.0;
    for (; x < 12.0; x += 1.0)
        shift += std::log(x);
    const double y = 1.0 / (x * x);
    const double series =
        (1.0 / 12.0 - y * (1.0 / 360.0 - y * (1.0 / 1260.0 - y * (1.0 / 1680.0 - y / 1188.0)))) / x;
    return (x - 0.5) * std::log(x) - x + 0.5 * std::log(2.0 * std::numbers::pi) + series - shift;
}

double awayFromZero(double value) noexcept
{
    return std::abs(value) < tiny ? tiny : value;
}

/** Continued fraction b0 + a1/(b1 + a2/(b2 + ...)), given as term(k) -> {a_k, b_k} for k from 1. */
template <class Term>
double continuedFraction(double b0, Term term) noexcept
{
    double f = awayFromZero(b0), c = f, d = 0.0;
    for (int k = 1; k < mostSteps; ++k)
    {
        const auto [a, b] = term(k);
        d = 1.0 / awayFromZero(b + a * d);
        c = awayFromZero(b + a / c);
        const double step = c * d;
        f *= step;
        if (std::abs(step - 1.0) < smallestStep)
            break;
    }
    return f;
}

struct Fraction
{
    double a, b;
};

double betaTail(double a, double b, double x) noexcept
{
    const double front =
        std::exp(logGamma(a + b) - logGamma(a) - logGamma(b) + a * std::log(x) + b * std::log1p(-x)) / a;
    const auto term = [=](int step) -> Fraction
    {
        const int m = step / 2;
        const double k = m;
        if (step % 2 == 0)
            return { k * (b - k) * x / ((a + 2.0 * k - 1.0) * (a + 2.0 * k)), 1.0 };
        return { -(a + k) * (a + b + k) * x / ((a + 2.0 * k) * (a + 2.0 * k + 1.0)), 1.0 };
    };
    return front / continuedFraction(1.0, term);
}

double gammaSeries(double a, double x) noexcept
{
    double term = 1.0 / a, sum = term;
    for (int k = 1; k < mostSteps && term > sum * smallestStep; ++k)
        sum += term *= x / (a + k);
    return sum * std::exp(a * std::log(x) - x - logGamma(a));
}

double gammaFraction(double a, double x) noexcept
{
    const auto term = [=](int k) -> Fraction { return { -k * (k - a), x + 1.0 - a + 2.0 * k }; };
    return std::exp(a * std::log(x) - x - logGamma(a)) / continuedFraction(x + 1.0 - a, term);
}

/** t over 0 at which both tails together hold `share`: Newton's method on the logarithms of both, from the
    tail's power law or the normal law, kept between bounds. */
double upperPoint(double share, double df) noexcept
{
    const double wanted = std::log(share);
    double low = 0.0, high = std::numeric_limits<double>::infinity(), t = 1.0;
    for (int step = 0; step < 200; ++step)
    {
        const double found = studentTTwoSided(t, df);
        (found > share ? low : high) = t;
        const double density = std::exp(logGamma(0.5 * (df + 1.0)) - logGamma(0.5 * df) -
                                        0.5 * (df + 1.0) * std::log1p(t * t / df)) /
                               std::sqrt(df * std::numbers::pi);
        // d ln(share) / d ln t = -2 density t / share
        double next = t * std::exp((std::log(found) - wanted) * found / (2.0 * density * t));
        if (!(next > low && next < high))
            next = std::isinf(high) ? 2.0 * t : 0.5 * (low + high);
        if (std::abs(next - t) <= 1e-14 * t)
            return next;
        t = next;
    }
    return t;
}
}

double regularisedBeta(double a, double b, double x) noexcept
{
    if (!(x > 0.0))
        return 0.0;
    if (x >= 1.0)
        return 1.0;
    return x < (a + 1.0) / (a + b + 2.0) ? betaTail(a, b, x) : 1.0 - betaTail(b, a, 1.0 - x);
}

double regularisedGamma(double a, double x) noexcept
{
    if (!(x > 0.0))
        return 0.0;
    return x < a + 1.0 ? gammaSeries(a, x) : 1.0 - gammaFraction(a, x);
}

double normalCdf(double x) noexcept
{
    return 0.5 * std::erfc(-x / std::numbers::sqrt2);
}

double normalDensity(double x) noexcept
{
    return std::exp(-0.5 * x * x) / std::sqrt(2.0 * std::numbers::pi);
}

double studentTTwoSided(double t, double df) noexcept
{
    const double square = t * t;
    if (square < df) // the middle: from the other end, where nothing is cancelled
        return 1.0 - regularisedBeta(0.5, 0.5 * df, square / (df + square));
    return regularisedBeta(0.5 * df, 0.5, df / (df + square));
}

double studentTCdf(double t, double df) noexcept
{
    const double tail = 0.5 * studentTTwoSided(t, df);
    return t < 0.0 ? tail : 1.0 - tail;
}

double studentTQuantile(double p, double df) noexcept
{
    if (p == 0.5)
        return 0.0;
    const double t = upperPoint(2.0 * std::min(p, 1.0 - p), df);
    return p < 0.5 ? -t : t;
}

double chiSquareCdf(double x, double df) noexcept
{
    return regularisedGamma(0.5 * df, 0.5 * x);
}

double chiSquareQuantile(double p, double df) noexcept
{
    double low = 0.0, high = df;
    while (chiSquareCdf(high, df) < p)
        high *= 2.0;
    for (int step = 0; step < 2000 && high - low > 1e-15 * high; ++step)
    {
        const double middle = 0.5 * (low + high);
        if (middle == low || middle == high)
            break;
        (chiSquareCdf(middle, df) < p ? low : high) = middle;
    }
    return 0.5 * (low + high);
}

double drawChiSquare(Random& random, double df) noexcept
{
    const double shape = 0.5 * df;
    if (shape < 1.0) // a gamma deviate of shape a is one of shape a + 1 times u^(1/a)
        return drawChiSquare(random, df + 2.0) * std::pow(1.0 - random.uniform(), 1.0 / shape);
    const double d = shape - 1.0 / 3.0, c = 1.0 / std::sqrt(9.0 * d);
    while (true)
    {
        const double x = random.normal(), root = 1.0 + c * x;
        if (root <= 0.0)
            continue;
        const double v = root * root * root;
        if (std::log(1.0 - random.uniform()) < 0.5 * x * x + d - d * v + d * std::log(v))
            return 2.0 * d * v;
    }
}

}
