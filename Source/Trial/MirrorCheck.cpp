#include "Trial/MirrorCheck.h"

#include "Trial/Words.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>

namespace plumbline
{

namespace
{
constexpr double soundSpeed = 343.2; // only ratios of paths are asked of it here: 1 % does not matter
constexpr double microphoneError = 0.01, cabinetError = 0.005;

struct Arrivals
{
    double left = 0.0, right = 0.0; ///< metres
    int takes = 0;
};

/** Mean first arrivals at each position, as paths. */
std::map<std::string, Arrivals> arrivalsOf(const StanceData& stance)
{
    std::map<std::string, Arrivals> found;
    for (const auto& take : stance.takes)
    {
        if (take.sides.size() != 2 || !take.sides[0].travelSeconds || !take.sides[1].travelSeconds)
            continue;
        auto& at = found[take.position];
        at.left += soundSpeed * *take.sides[0].travelSeconds;
        at.right += soundSpeed * *take.sides[1].travelSeconds;
        ++at.takes;
    }
    for (auto& [name, at] : found)
    {
        at.left /= at.takes;
        at.right /= at.takes;
    }
    return found;
}

std::optional<std::array<double, 3>> offsetM(const std::string& name, const std::vector<Position>& positions)
{
    for (const auto& position : positions)
        if (position.name == name && position.offsetCm)
            return std::array{ 0.01 * (*position.offsetCm)[0], 0.01 * (*position.offsetCm)[1],
                               0.01 * (*position.offsetCm)[2] };
    return name == seatName ? std::optional(std::array<double, 3>{}) : std::nullopt;
}

std::optional<PairFault> polarityFault(const StanceData& stance)
{
    int unlike = 0, alike = 0;
    for (const auto& take : stance.takes)
        if (take.sides.size() == 2 && take.sides[0].polarity && take.sides[1].polarity)
            ++(*take.sides[0].polarity == *take.sides[1].polarity ? alike : unlike);
    if (unlike <= alike)
        return std::nullopt;
    return PairFault{ PairFault::Kind::polarity,
                      stance.name() + ": one side moves the other way. Check its cable: plus and "
                                      "minus are exchanged somewhere." };
}

/** Slope of (left path less right path) over metres to the right: above 0 as long as left is left. */
std::optional<PairFault> swapFault(const StanceData& stance, const std::vector<Position>& positions)
{
    double sum = 0.0, mean = 0.0, count = 0.0;
    std::vector<std::pair<double, double>> points;
    for (const auto& [name, at] : arrivalsOf(stance))
        if (const auto offset = offsetM(name, positions))
        {
            points.push_back({ (*offset)[0], at.left - at.right });
            sum += (*offset)[0];
            mean += at.left - at.right;
            count += 1.0;
        }
    double product = 0.0, square = 0.0;
    for (const auto& [right, apart] : points)
    {
        product += (right - sum / count) * (apart - mean / count);
        square += std::pow(right - sum / count, 2);
    }
    if (square < 0.5 * 0.05 * 0.05)
        return std::nullopt;
    // A path's slope is at most 1; a pair seen under 2 x 20 degrees has 0.7. The microphone's own error is
    // far less.
    const double slope = product / square, error = std::numbers::sqrt2 * microphoneError / std::sqrt(square);
    if (slope >= -std::max(0.15, 2.0 * error))
        return std::nullopt;
    return PairFault{
        PairFault::Kind::swapped,
        stance.name() + ": moving the microphone to the right brings the left channel nearer. Left and right "
                        "are exchanged."
    };
}
}

std::vector<PairFault> wiringFaults(const StanceData& stance, const std::vector<Position>& positions)
{
    std::vector<PairFault> faults;
    if (auto fault = polarityFault(stance))
        faults.push_back(std::move(*fault));
    if (auto fault = swapFault(stance, positions))
        faults.push_back(std::move(*fault));
    return faults;
}

std::optional<TweeterShift> tweeterShift(const StanceData& side, const StanceData& upright,
                                         const CabinetPlace& place, const std::vector<Position>& positions)
{
    const auto laid = arrivalsOf(side), stood = arrivalsOf(upright);
    CabinetPlace left = place, right = place;
    left.left = true;
    right.left = false;
    constexpr double probe = 0.2; // a spacing to see the geometry with; paths are straight enough
    double leftSum = 0.0, leftSquare = 0.0, rightSum = 0.0, rightSquare = 0.0;
    for (const auto& [name, at] : laid)
    {
        const auto reference = stood.find(name);
        const auto microphone = offsetM(name, positions);
        if (reference == stood.end() || !microphone)
            continue;
        const auto perMetre = [&](const CabinetPlace& cabinet)
        {
            return (driverPaths(cabinet, DriverOrientation::tweeterOut, probe, *microphone).tweeterM -
                    driverPaths(cabinet, DriverOrientation::tweeterIn, probe, *microphone).tweeterM) /
                   probe;
        };
        // Upright the tweeter is half the spacing higher: what that adds to its path is next to nothing at
        // ear height.
        const double l = perMetre(left), r = perMetre(right);
        leftSum += l * (at.left - reference->second.left);
        leftSquare += l * l;
        rightSum += r * (at.right - reference->second.right);
        rightSquare += r * r;
    }
    const double least = std::min(leftSquare, rightSquare);
    if (least < 0.01)
        return std::nullopt;
    return TweeterShift{ leftSum / leftSquare, rightSum / rightSquare,
                         std::sqrt(2.0) * std::hypot(microphoneError, cabinetError) / std::sqrt(least) };
}

std::optional<PairFault> mirrorFault(const TweeterShift& shift, double spacingM)
{
    const double apart = std::abs(shift.leftM - shift.rightM);
    const double error = std::numbers::sqrt2 * shift.errorM;
    // One in, one out lies a whole spacing apart, a mirrored pair nothing: half a spacing parts them.
    if (shift.leftM * shift.rightM >= 0.0 || apart < std::max(2.0 * error, 0.5 * spacingM))
        return std::nullopt;
    const bool leftOut = shift.leftM > 0.0;
    return PairFault{ PairFault::Kind::unmirrored,
                      std::string("The pair is not mirrored: the left tweeter is ") +
                          (leftOut ? "out" : "in") + ", the right one " + (leftOut ? "in" : "out") +
                          ". Turn one cabinet over." };
}

}
