#include "Trial/Bands.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>

namespace plumbline
{

namespace
{
std::vector<ThirdOctave> makeThirdOctaves()
{
    constexpr std::array<double, 10> decade{ 10.0, 12.5, 16.0, 20.0, 25.0, 31.5, 40.0, 50.0, 63.0, 80.0 };
    std::vector<ThirdOctave> bands;
    for (int n = -17; n <= 13; ++n)
    {
        const double centre = 1000.0 * std::pow(10.0, n / 10.0), edge = std::pow(10.0, 0.05);
        const int place = n + 20;
        const double nominal = decade[static_cast<std::size_t>(place % 10)] * std::pow(10.0, place / 10);
        bands.push_back({ nominal, centre, centre / edge, centre * edge });
    }
    return bands;
}

struct Share
{
    std::size_t point;
    double weight;
};

/** Points of the grid that lie in a band, with the part of their 48th of an octave that does. */
std::vector<Share> sharesOf(double lowHz, double highHz)
{
    const auto place = [](double hz)
    { return curveGrid::perOctave * std::log2(hz / 1000.0) - curveGrid::lowestStep; };
    const double from = place(lowHz), to = place(highHz);
    std::vector<Share> shares;
    for (double point = std::max(0.0, std::round(from)); point - 0.5 < to; point += 1.0)
    {
        const double weight = std::min(point + 0.5, to) - std::max(point - 0.5, from);
        if (weight > 1e-9 && point < static_cast<double>(curveGrid::points))
            shares.push_back({ static_cast<std::size_t>(point), weight });
    }
    return shares;
}

double meanOver(const Curve& levelDb, const std::vector<Share>& shares)
{
    double power = 0.0, weight = 0.0;
    for (const auto& share : shares)
    {
        power += share.weight * std::pow(10.0, 0.1 * levelDb[share.point]);
        weight += share.weight;
    }
    return weight > 0.0 ? 10.0 * std::log10(power / weight) : unknownValue;
}
}

const std::vector<ThirdOctave>& thirdOctaves()
{
    static const auto bands = makeThirdOctaves();
    return bands;
}

double pinkMeanDb(const Curve& levelDb, double lowHz, double highHz)
{
    return meanOver(levelDb, sharesOf(lowHz, highHz));
}

std::vector<double> thirdOctaveLevels(const Curve& levelDb)
{
    static const auto shares = []
    {
        std::vector<std::vector<Share>> all;
        for (const auto& band : thirdOctaves())
            all.push_back(sharesOf(band.lowHz, band.highHz));
        return all;
    }();
    std::vector<double> levels;
    levels.reserve(shares.size());
    for (const auto& band : shares)
        levels.push_back(meanOver(levelDb, band));
    return levels;
}

std::vector<std::size_t> bandsFromTo(double lowNominalHz, double highNominalHz)
{
    std::vector<std::size_t> places;
    const auto& bands = thirdOctaves();
    for (std::size_t i = 0; i < bands.size(); ++i)
        if (bands[i].nominalHz > 0.999 * lowNominalHz && bands[i].nominalHz < 1.001 * highNominalHz)
            places.push_back(i);
    return places;
}

std::string frequencyName(double hz)
{
    const double shown = hz < 1000.0 ? hz : hz / 1000.0;
    const double exponent = std::floor(std::log10(shown));
    const double unit = std::pow(10.0, exponent - (hz < 1000.0 ? std::min(exponent, 2.0) : 1.0));
    char text[32];
    std::snprintf(text, sizeof text, "%.4g", std::round(shown / unit) * unit);
    return std::string(text) + (hz < 1000.0 ? " Hz" : " kHz");
}

}
