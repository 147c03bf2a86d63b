#include "Files/ComparisonPicture.h"

#include "Files/Chart.h"
#include "Files/ComparisonFile.h"
#include "Trial/Words.h"

#include <algorithm>
#include <cmath>

namespace plumbline
{

namespace
{

constexpr std::size_t mostTitle = 96; ///< characters that fit over a chart

std::vector<double> gridFrequencies()
{
    std::vector<double> hz(curveGrid::points);
    for (std::size_t i = 0; i < hz.size(); ++i)
        hz[i] = curveGrid::frequencyHz(i);
    return hz;
}

ChartCurve curveOver(const Curve& values, const std::vector<bool>& common)
{
    ChartCurve curve;
    curve.frequencyHz = gridFrequencies();
    curve.levelDb = values;
    curve.known.resize(values.size());
    for (std::size_t i = 0; i < values.size(); ++i)
        curve.known[i] = common[i] && std::isfinite(values[i]);
    return curve;
}

/** A colour a monitor, in the order in which the board names them. */
std::string colourOf(const Comparison& comparison, std::size_t stance)
{
    std::vector<std::string> seen;
    for (std::size_t s = 0; s <= stance; ++s)
        if (const auto& name = comparison.stance(s).stance.monitor;
            std::find(seen.begin(), seen.end(), name) == seen.end())
            seen.push_back(name);
    const auto& wanted = comparison.stance(stance).stance.monitor;
    const auto at = static_cast<std::size_t>(std::find(seen.begin(), seen.end(), wanted) - seen.begin());
    return monitorColours()[at % monitorColours().size()];
}

std::string levelsPicture(const Comparison& comparison)
{
    const auto& board = *comparison.board;
    std::vector<ChartCurve> curves;
    for (std::size_t s = 0; s < board.stances().size(); ++s)
    {
        auto curve = curveOver(matchedLevel(board.stances()[s]), board.commonPoints());
        curve.name = comparison.stance(s).name();
        curve.colour = colourOf(comparison, s);
        curve.dash = orientationDash(comparison.stance(s).stance.orientation);
        curves.push_back(std::move(curve));
    }
    ChartFrame frame;
    const auto plain = std::to_string(curves.size()) + " stances at one level, at the seat";
    const bool fits = !comparison.words.empty() && comparison.words.front().size() <= mostTitle;
    frame.title = fits ? comparison.words.front() : plain;
    frame.caption =
        "Matched over " + rangeName(board.matchBand().fromHz, board.matchBand().toHz) +
        ", sides together. Unbroken: upright; long dashes: side, tweeters out; short: tweeters in.";
    fitLevelRange(frame, curves, 40.0);
    return chartSvg(frame, curves);
}

/** The lines that bound an interval. */
ChartCurve boundOf(const ChartCurve& middle, const Curve& halfWidth, double sign)
{
    auto bound = middle;
    for (std::size_t i = 0; i < halfWidth.size(); ++i)
    {
        bound.levelDb[i] += sign * halfWidth[i];
        bound.known[i] = bound.known[i] && std::isfinite(halfWidth[i]);
    }
    bound.width = 1.0;
    bound.opacity = 0.6;
    bound.name.clear();
    return bound;
}

/** Zero in the middle, and the known parts of all curves in view as far as 30 dB allow. */
void centreRange(ChartFrame& frame, const std::vector<ChartCurve>& curves)
{
    double most = 9.0;
    for (const auto& curve : curves)
        for (std::size_t i = 0; i < curve.levelDb.size(); ++i)
            if (curve.known[i] && curve.frequencyHz[i] >= frame.lowHz && curve.frequencyHz[i] <= frame.highHz)
                most = std::max(most, std::abs(curve.levelDb[i]));
    frame.topDb = std::min(30.0, std::ceil((most + 1.0) / 5.0) * 5.0);
    frame.bottomDb = -frame.topDb;
}

std::string differencePicture(const Comparison& comparison, std::size_t a, std::size_t b, std::size_t side)
{
    const auto found = comparison.differences->curve(a, b, side);
    auto middle = curveOver(found.differenceDb, comparison.board->commonPoints());
    middle.colour = colourOf(comparison, a);
    middle.name = sideName(side);
    std::vector<ChartCurve> curves{ middle, boundOf(middle, found.halfWidthDb, 1.0),
                                    boundOf(middle, found.halfWidthDb, -1.0) };
    const auto& bounded = curves[1].known;
    const bool intervals = std::find(bounded.begin(), bounded.end(), true) != bounded.end();
    ChartFrame frame;
    frame.title = comparison.stance(a).name() + " less " + comparison.stance(b).name();
    frame.caption =
        !intervals ? "At one level, at the seat. No interval: nothing was measured twice."
        : comparison.facts->firm(a, b)
            ? "At one level, at the seat. Thin: the 95 % interval at each frequency by itself."
            : "At one level, at the seat. Thin: the 95 % interval; it assumes the pair returns exactly.";
    centreRange(frame, curves);
    return chartSvg(frame, curves);
}

}

Curve matchedLevel(const MatchedStance& stance)
{
    Curve power(curveGrid::points, 0.0);
    const std::size_t sides = stance.sideCount();
    for (std::size_t side = 0; side < sides; ++side)
    {
        Curve mean(curveGrid::points, 0.0);
        for (const auto& setUp : stance.setUps)
            for (const auto* take : setUp.seat)
                for (std::size_t i = 0; i < mean.size(); ++i)
                    mean[i] +=
                        take->sides[side][i] / static_cast<double>(setUp.seat.size() * stance.setUps.size());
        for (std::size_t i = 0; i < power.size(); ++i)
            power[i] += std::pow(10.0, 0.1 * mean[i]) / static_cast<double>(sides);
    }
    for (double& value : power)
        value = 10.0 * std::log10(value);
    return power;
}

std::map<std::string, std::string> comparisonPictures(const Comparison& comparison)
{
    std::map<std::string, std::string> files{ { "levels.svg", levelsPicture(comparison) } };
    const auto& places = comparison.order.places;
    if (places.size() < 2)
        return files;
    const std::size_t a = places[0].stance, b = places[1].stance;
    const auto& stances = comparison.board->stances();
    const std::size_t sides = std::min(stances[a].sideCount(), stances[b].sideCount());
    for (std::size_t side = 0; side < sides; ++side)
        files[std::string("difference-") + sideName(side) + ".svg"] =
            differencePicture(comparison, a, b, side);
    return files;
}

}
