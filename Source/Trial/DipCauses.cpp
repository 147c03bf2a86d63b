#include "Trial/DipCauses.h"

#include "Trial/Bands.h"
#include "Trial/Words.h"

#include <algorithm>
#include <cmath>

namespace plumbline
{

namespace
{
constexpr double closeShare = 0.03, nearShare = 0.10, closeDb = 3.0;
constexpr std::size_t halfOctave = curveGrid::perOctave / 2;

/** Highest level within half an octave to one side. */
double shoulder(const Curve& curve, std::size_t from, std::ptrdiff_t way)
{
    double highest = curve[from];
    for (std::size_t step = 1; step <= halfOctave; ++step)
    {
        const auto at = static_cast<std::ptrdiff_t>(from) + way * static_cast<std::ptrdiff_t>(step);
        if (at < 0 || at >= static_cast<std::ptrdiff_t>(curve.size()) ||
            std::isnan(curve[static_cast<std::size_t>(at)]))
            break;
        highest = std::max(highest, curve[static_cast<std::size_t>(at)]);
    }
    return highest;
}

double apart(double hz, double expectedHz)
{
    return std::abs(hz / expectedHz - 1.0);
}
}

std::vector<Dip> dipsIn(const Curve& differenceDb, double lowHz, double highHz, double leastDepthDb)
{
    std::vector<Dip> dips;
    for (std::size_t i = 1; i + 1 < differenceDb.size(); ++i)
    {
        const double hz = curveGrid::frequencyHz(i), here = differenceDb[i];
        const double before = differenceDb[i - 1], after = differenceDb[i + 1];
        if (hz < lowHz || hz > highHz || !(here <= -leastDepthDb) || !(here < before) || !(here <= after))
            continue;
        const double stands = std::min(shoulder(differenceDb, i, -1), shoulder(differenceDb, i, 1)) - here;
        if (stands < 0.5 * leastDepthDb)
            continue;
        const double bend = before - 2.0 * here + after;
        const double off = bend > 0.0 ? 0.5 * (before - after) / bend : 0.0;
        dips.push_back({ hz * std::exp2(off / curveGrid::perOctave), here });
    }
    std::sort(dips.begin(), dips.end(), [](const Dip& a, const Dip& b) { return a.depthDb < b.depthDb; });
    return dips;
}

std::optional<Dip> dipOf(const DriverFacts& drivers)
{
    if (!drivers.crossoverHz)
        return std::nullopt;
    return crossoverDip({ *drivers.crossoverHz, drivers.speedMps, drivers.wooferRadiusM }, drivers.paths,
                        drivers.upright);
}

std::vector<DipCause> causesOf(const std::vector<Dip>& measured, const DriverFacts& drivers,
                               const std::vector<std::pair<std::string, Bounce>>& bounces)
{
    std::vector<std::pair<std::string, Dip>> expected;
    if (const auto dip = dipOf(drivers))
        expected.push_back({ "the two drivers", *dip });
    for (const auto& [name, bounce] : bounces)
        for (const double hz : bounce.dipsHz)
            expected.push_back({ name, { hz, rippleOf(bounce.levelDb).dipDb } });
    std::vector<DipCause> causes;
    for (const auto& dip : measured)
    {
        const auto nearest = std::min_element(expected.begin(), expected.end(),
                                              [&](const auto& a, const auto& b) {
                                                  return apart(dip.frequencyHz, a.second.frequencyHz) <
                                                         apart(dip.frequencyHz, b.second.frequencyHz);
                                              });
        if (nearest == expected.end() || apart(dip.frequencyHz, nearest->second.frequencyHz) > nearShare)
            continue;
        const bool close = apart(dip.frequencyHz, nearest->second.frequencyHz) <= closeShare &&
                           std::abs(dip.depthDb - nearest->second.depthDb) <= closeDb;
        const bool claimed = close && drivers.directSound && nearest->first == "the two drivers";
        causes.push_back(
            { dip, nearest->second, nearest->first, claimed ? Fit::explains : Fit::explainsPart });
    }
    return causes;
}

std::vector<std::string> geometryWords(const std::vector<DipCause>& causes, const DriverFacts& drivers)
{
    std::vector<std::string> words;
    const double millimetres = 1000.0 * drivers.paths.differenceM();
    if (millimetres < 0.5)
        words.push_back("Both drivers are equally far: geometry gives no dip here.");
    else
    {
        std::string text = "One driver is " + figure(millimetres, 0) +
                           " mm farther than the other; equal sounds would cancel at " +
                           frequencyName(firstNullHz(drivers.paths.differenceM(), drivers.speedMps));
        if (!drivers.crossoverHz)
            text += ". The crossover is not known, so no dip is put down to it";
        else if (const auto dip = dipOf(drivers))
            text += ", with the crossover at " + frequencyName(*drivers.crossoverHz) + " the dip is " +
                    figure(-dip->depthDb, 1) + " dB deep at " + frequencyName(dip->frequencyHz);
        else
            text += ", but the crossover at " + frequencyName(*drivers.crossoverHz) + " leaves no dip";
        words.push_back(text + ".");
    }
    for (const auto& cause : causes)
        words.push_back("The dip of " + figure(-cause.measured.depthDb, 1) + " dB at " +
                        frequencyName(cause.measured.frequencyHz) +
                        (cause.fit == Fit::explains ? " is explained by " : " may be explained in part by ") +
                        cause.cause + " (" + figure(-cause.expected.depthDb, 1) + " dB at " +
                        frequencyName(cause.expected.frequencyHz) + ").");
    return words;
}

}
