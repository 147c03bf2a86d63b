#include "Trial/Words.h"

#include "Trial/Bands.h"

#include <algorithm>
#include <cmath>
#include <cstdio>

namespace plumbline
{

namespace
{
const std::string dash = "\u2013", minus = "\u2212", plusOrMinus = " \u00b1 ";

/** Not by printf alone: its decimal mark follows the locale. */
std::string digits(double value, int decimals)
{
    char text[48];
    const double scale = std::pow(10.0, decimals);
    const long long whole = std::llround(std::abs(value) * scale);
    const long long unit = std::llround(scale);
    if (decimals == 0)
        std::snprintf(text, sizeof text, "%lld", whole);
    else
        std::snprintf(text, sizeof text, "%lld.%0*lld", whole / unit, decimals, whole % unit);
    return text;
}
}

std::string figure(double value, int decimals)
{
    const bool below = std::llround(value * std::pow(10.0, decimals)) < 0;
    return (below ? minus : std::string()) + digits(value, decimals);
}

std::string withPlusMinus(double value, double plusMinus, const std::string& unit)
{
    const double smallest = std::isfinite(plusMinus) && plusMinus > 0.0 ? plusMinus : 0.1;
    const int decimals = std::clamp(smallest >= 9.95      ? 0
                                    : smallest >= 0.0995  ? 1
                                    : smallest >= 0.00995 ? 2
                                                          : 3,
                                    0, 3);
    auto text = figure(value, decimals);
    if (std::isfinite(plusMinus))
        text += plusOrMinus + digits(plusMinus, decimals);
    return text + " " + unit;
}

std::string rangeName(double fromHz, double toHz)
{
    const auto from = frequencyName(fromHz), to = frequencyName(toHz);
    const auto unitOf = [](const std::string& text) { return text.substr(text.find(' ')); };
    if (unitOf(from) == unitOf(to))
        return from.substr(0, from.find(' ')) + dash + to;
    if (fromHz >= 500.0) // "0.9-2.1 kHz"
    {
        auto text = figure(fromHz / 1000.0, 2);
        return (text.back() == '0' ? text.substr(0, text.size() - 1) : text) + dash + to;
    }
    return from + dash + to;
}

std::string saidAgainst(const Stance& stance, const Stance& other)
{
    if (stance.monitor != other.monitor)
        return "with " + stance.name();
    if (stance.orientation.rfind("side", 0) == 0 && other.orientation.rfind("side", 0) != 0)
        return "on its side";
    return stance.orientation;
}

}
