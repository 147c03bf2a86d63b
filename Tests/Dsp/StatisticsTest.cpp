// What could pass here for the wrong reason: a cumulative law and its inverse that are wrong together. So
// both are held against tables: SciPy 1.10 (scipy.stats, scipy.special) and the printed tables of a handbook.
// Degrees of freedom that are no whole number are among them, as Welch's are.

#include "Dsp/Statistics.h"
#include "Dsp/StudentisedRange.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <numbers>

using namespace plumbline;

namespace
{
auto within(double value, double relative)
{
    return Approx(value).epsilon(relative).margin(1e-300);
}
}

TEST_CASE("The incomplete beta and gamma functions agree with SciPy")
{
    const double beta[][4] = {
        { 0.5, 0.5, 0.3, 0.369010119565545 },  { 2, 3, 0.4, 0.5248 },
        { 5, 0.5, 0.99, 0.757158109101562 },   { 20, 35, 0.3, 0.163235695998715 },
        { 0.5, 100, 0.001, 0.34495648367557 }, { 150, 0.5, 0.9, 1.93772638083638e-08 },
    };
    for (const auto& [a, b, x, value] : beta)
        CHECK(regularisedBeta(a, b, x) == within(value, 1e-12));
    CHECK(regularisedBeta(2.0, 3.0, 0.0) == 0.0);
    CHECK(regularisedBeta(2.0, 3.0, 1.0) == 1.0);
    const double gamma[][3] = {
        { 0.5, 0.3, 0.561421973919 },  { 2, 3, 0.800851726528544 },   { 5, 0.5, 0.000172115629955841 },
        { 20, 35, 0.997675493392158 }, { 100, 90, 0.15822098918643 }, { 0.5, 20, 0.999999999746037 },
    };
    for (const auto& [a, x, value] : gamma)
        CHECK(regularisedGamma(a, x) == within(value, 1e-12));
}

TEST_CASE("Student's t agrees with SciPy at whole and broken degrees of freedom, far into the tails")
{
    const double points[][4] = {
        // t, df, lower tail, both tails
        { 0, 3, 0.5, 1 },
        { -1.3, 2.5, 0.150243394635354, 0.300486789270708 },
        { 2, 1, 0.852416382349567, 0.295167235300866 },
        { 5, 7.25, 0.999294399690182, 0.00141120061963534 },
        { -30, 2, 0.000554631340979829, 0.00110926268195966 },
        { 12, 40, 0.999999999999996, 7.82417130425597e-15 },
        { 0.001, 5, 0.500379606613901, 0.999240786772198 },
    };
    for (const auto& [t, df, lower, both] : points)
    {
        CHECK(studentTCdf(t, df) == within(lower, 1e-12));
        CHECK(studentTTwoSided(t, df) == within(both, 1e-12));
    }
    const double quantiles[][3] = {
        // p, df, t
        { 0.9, 1, 3.07768353720781 },      { 0.9, 2, 1.88561808316415 },
        { 0.9, 2.7, 1.68810817514664 },    { 0.9, 4, 1.53320627371314 },
        { 0.9, 10, 1.37218364111029 },     { 0.9, 200.5, 1.2857881667387 },
        { 0.975, 1, 12.7062047364321 },    { 0.975, 2, 4.30265272991127 },
        { 0.975, 2.7, 3.39214838317644 },  { 0.975, 4, 2.7764451051978 },
        { 0.975, 10, 2.22813885196494 },   { 0.975, 200.5, 1.97186629030211 },
        { 0.9995, 1, 636.619249431856 },   { 0.9995, 2, 31.5990545770415 },
        { 0.9995, 2.7, 15.6357728630004 }, { 0.9995, 4, 8.6103015813799 },
        { 0.9995, 10, 4.58689385870313 },  { 0.9995, 200.5, 3.33971078315876 },
    };
    for (const auto& [p, df, t] : quantiles)
    {
        CHECK(studentTQuantile(p, df) == within(t, 3e-9));
        CHECK(studentTQuantile(1.0 - p, df) == within(-t, 3e-9));
    }
    CHECK(studentTQuantile(0.5, 3.0) == 0.0);
    // SciPy's own inverse is true to 1e-9 only; these are closed forms (one and two degrees of freedom).
    for (const double p : { 0.6, 0.9, 0.975, 0.9995 })
    {
        CHECK(studentTQuantile(p, 1.0) == within(std::tan(std::numbers::pi * (p - 0.5)), 1e-11));
        CHECK(studentTQuantile(p, 2.0) == within((2 * p - 1) / std::sqrt(2 * p * (1 - p)), 1e-11));
    }
}

TEST_CASE("Half-widths of means of few takes are those of the tables")
{
    // t(0.975, n - 1) / sqrt(n), recomputed in SciPy and Octave: 80.0, 80.1, 80.2 dB have s = 0.1 dB and +-
    // 0.248414 dB.
    const double table[][2] = { { 2, 8.984644 }, { 3, 2.484138 }, { 4, 1.591223 },  { 5, 1.241664 },
                                { 6, 1.049436 }, { 8, 0.836021 }, { 10, 0.715357 }, { 20, 0.468014 } };
    for (const auto& [n, halfWidth] : table)
        CHECK(studentTQuantile(0.975, n - 1.0) / std::sqrt(n) == Approx(halfWidth).margin(5e-7));
}

TEST_CASE("Chi-square agrees with SciPy")
{
    const double quantiles[][3] = {
        // p, df, x
        { 0.001, 1, 1.57079714926249e-06 }, { 0.001, 3, 0.0242975858156927 },
        { 0.001, 9, 1.15194954622356 },     { 0.001, 40.5, 18.2454172329539 },
        { 0.025, 1, 0.000982069117175256 }, { 0.025, 3, 0.215795282623898 },
        { 0.025, 9, 2.70038949998036 },     { 0.025, 40.5, 24.8234397562568 },
        { 0.5, 1, 0.454936423119572 },      { 0.5, 3, 2.36597388437534 },
        { 0.5, 9, 8.34283269225295 },       { 0.5, 40.5, 39.8353195700762 },
        { 0.975, 1, 5.02388618731489 },     { 0.975, 3, 9.34840360449615 },
        { 0.975, 9, 19.0227677986416 },     { 0.975, 40.5, 59.9514807479626 },
        { 0.999, 1, 10.8275661706627 },     { 0.999, 3, 16.2662361962381 },
        { 0.999, 9, 27.8771648712566 },     { 0.999, 40.5, 74.0739771218612 },
    };
    for (const auto& [p, df, x] : quantiles)
    {
        CHECK(chiSquareQuantile(p, df) == within(x, 1e-10));
        CHECK(chiSquareCdf(x, df) == within(p, 1e-11));
    }
}

TEST_CASE("The studentised range agrees with SciPy and with a handbook's table")
{
    const double values[][4] = {
        // p, groups, df, q
        { 0.9, 2, 1, 8.928993022 },    { 0.9, 2, 2, 4.12948321 },    { 0.9, 2, 4, 3.014886638 },
        { 0.9, 2, 9, 2.592413171 },    { 0.9, 2, 60, 2.362654283 },  { 0.9, 3, 1, 13.43669932 },
        { 0.9, 3, 2, 5.732648953 },    { 0.9, 3, 4, 3.975595737 },   { 0.9, 3, 9, 3.315758019 },
        { 0.9, 3, 60, 2.958888952 },   { 0.9, 9, 1, 23.62085893 },   { 0.9, 9, 2, 9.409049257 },
        { 0.9, 9, 4, 6.13888698 },     { 0.9, 9, 9, 4.87270233 },    { 0.9, 9, 60, 4.155072642 },
        { 0.9, 12, 1, 25.91840048 },   { 0.9, 12, 2, 10.25880736 },  { 0.9, 12, 4, 6.645322046 },
        { 0.9, 12, 9, 5.234305713 },   { 0.9, 12, 60, 4.420811898 }, { 0.95, 2, 1, 17.96928706 },
        { 0.95, 2, 2, 6.084869845 },   { 0.95, 2, 4, 3.926486323 },  { 0.95, 2, 9, 3.19917334 },
        { 0.95, 2, 60, 2.828848309 },  { 0.95, 3, 1, 26.97552987 },  { 0.95, 3, 2, 8.330782646 },
        { 0.95, 3, 4, 5.040241255 },   { 0.95, 3, 9, 3.948492203 },  { 0.95, 3, 60, 3.398661241 },
        { 0.95, 9, 1, 47.35658162 },   { 0.95, 9, 2, 13.53897603 },  { 0.95, 9, 4, 7.601519503 },
        { 0.95, 9, 9, 5.594712273 },   { 0.95, 9, 60, 4.550414424 }, { 0.95, 12, 1, 51.95735218 },
        { 0.95, 12, 2, 14.74872011 },  { 0.95, 12, 4, 8.20828256 },  { 0.95, 12, 9, 5.982951076 },
        { 0.95, 12, 60, 4.808476774 }, { 0.99, 2, 1, 90.02422669 },  { 0.99, 2, 2, 14.03584786 },
        { 0.99, 2, 4, 6.51117341 },    { 0.99, 2, 9, 4.595961498 },  { 0.99, 2, 60, 3.762208339 },
        { 0.99, 3, 1, 135.0406595 },   { 0.99, 3, 2, 19.01893599 },  { 0.99, 3, 4, 8.119791806 },
        { 0.99, 3, 9, 5.428042817 },   { 0.99, 3, 60, 4.282198359 }, { 0.99, 9, 1, 236.9661838 },
        { 0.99, 9, 2, 30.67938052 },   { 0.99, 9, 4, 11.92512033 },  { 0.99, 9, 9, 7.325114785 },
        { 0.99, 9, 60, 5.355791643 },  { 0.99, 12, 1, 259.9791072 }, { 0.99, 12, 2, 33.3982722 },
        { 0.99, 12, 4, 12.84016276 },  { 0.99, 12, 9, 7.783899216 }, { 0.99, 12, 60, 5.600672495 },
    };
    for (const auto& [p, groups, df, q] : values)
    {
        INFO(p << ", " << groups << " groups, df " << df);
        CHECK(studentisedRangeQuantile(p, static_cast<int>(groups), df) == within(q, 2e-6));
    }
    // Upper 5 % points as printed (Pearson & Hartley, Biometrika Tables for Statisticians, table 29; from
    // memory).
    const double printed[][3] = { { 3, 10, 3.88 }, { 5, 20, 4.23 }, { 10, 5, 6.99 }, { 2, 60, 2.83 } };
    for (const auto& [groups, df, q] : printed)
        CHECK(studentisedRangeQuantile(0.95, static_cast<int>(groups), df) == Approx(q).margin(0.0051));
}

TEST_CASE("Two groups range as Student's t: q = t sqrt(2)")
{
    for (const double df : { 1.0, 3.0, 7.5, 30.0 })
        for (const double p : { 0.9, 0.95, 0.999 })
            CHECK(studentisedRangeQuantile(p, 2, df) ==
                  within(std::sqrt(2.0) * studentTQuantile(0.5 + 0.5 * p, df), 1e-6));
}

TEST_CASE("Deviates of chi-square follow its law, below two degrees of freedom too")
{
    for (const double df : { 1.0, 2.0, 4.5, 24.0 })
    {
        Random random(11);
        constexpr int count = 100000;
        int under[3] = {};
        const double shares[3] = { 0.05, 0.5, 0.95 };
        double points[3];
        for (int k = 0; k < 3; ++k)
            points[k] = chiSquareQuantile(shares[k], df);
        double sum = 0.0;
        for (int i = 0; i < count; ++i)
        {
            const double x = drawChiSquare(random, df);
            sum += x;
            for (int k = 0; k < 3; ++k)
                under[k] += x < points[k] ? 1 : 0;
        }
        CHECK(sum / count == Approx(df).epsilon(0.02));
        for (int k = 0; k < 3; ++k)
            CHECK(static_cast<double>(under[k]) / count == Approx(shares[k]).margin(0.005));
    }
}
