#include "Trial/RegionCauses.h"

#include "Core/Units.h"
#include "Trial/DipCauses.h"

#include <algorithm>
#include <cmath>

namespace plumbline
{

namespace
{

std::optional<DriverOrientation> laidDown(const Stance& stance)
{
    if (stance.orientation == "side, tweeters out")
        return DriverOrientation::tweeterOut;
    if (stance.orientation == "side, tweeters in")
        return DriverOrientation::tweeterIn;
    return std::nullopt;
}

std::optional<CabinetPlace> placeOf(const StancePlacement& placement, std::size_t side)
{
    if (!placement.apartCm || !placement.distanceCm)
        return std::nullopt;
    CabinetPlace place;
    place.left = side == 0;
    place.asideM = 0.005 * *placement.apartCm;
    const double distance = 0.01 * *placement.distanceCm;
    if (distance <= place.asideM)
        return std::nullopt;
    place.aheadM = std::sqrt(distance * distance - place.asideM * place.asideM);
    place.toeInDegrees = placement.toeInDegrees.value_or(0.0);
    return place;
}

std::optional<DriverFacts> driversOf(const StanceData& laid, const StancePlacement& placement,
                                     std::size_t side, double speedMps)
{
    const auto orientation = laidDown(laid.stance);
    const auto place = placeOf(placement, side);
    const auto& monitor = laid.monitor;
    if (!orientation || !place || !monitor.driverSpacingCm || !monitor.crossoverHz)
        return std::nullopt;
    const double spacing = 0.01 * *monitor.driverSpacingCm;
    DriverFacts facts;
    facts.paths = driverPaths(*place, *orientation, spacing, {});
    facts.upright = driverPaths(*place, DriverOrientation::upright, spacing, {});
    facts.crossoverHz = monitor.crossoverHz;
    facts.speedMps = speedMps;
    facts.wooferRadiusM = monitor.wooferCm  ? 0.005 * *monitor.wooferCm
                          : monitor.widthCm ? usualWooferRadiusM(0.01 * *monitor.widthCm)
                                            : 0.0;
    return facts;
}

/** @param dip of the stance that lies down, against the one that stands */
std::string causeOf(const StanceData& laid, const StanceData& standing, const Dip& dip, std::size_t side,
                    const Trial& trial)
{
    if (laid.stance.monitor != standing.stance.monitor || standing.stance.orientation != "upright" ||
        !(dip.depthDb < 0.0))
        return {};
    const auto* placement = trial.placementOf(laid.name());
    if (placement == nullptr)
        return {};
    const auto drivers = driversOf(laid, *placement, side, speedOfSound(trial.temperatureC.value_or(20.0)));
    if (!drivers)
        return {};
    const auto causes = causesOf({ dip }, *drivers, {});
    std::string text;
    if (!causes.empty())
        for (const auto& sentence : geometryWords(causes, *drivers))
            text += (text.empty() ? "" : " ") + sentence;
    return text;
}

}

std::vector<std::string> regionCauses(const Comparison& comparison, const Trial& trial)
{
    std::vector<std::string> causes;
    for (const auto& region : comparison.regions)
    {
        const auto &a = comparison.stance(region.a), &b = comparison.stance(region.b);
        causes.push_back(laidDown(a.stance)
                             ? causeOf(a, b, { region.peakHz, region.peakDb }, region.side, trial)
                             : causeOf(b, a, { region.peakHz, -region.peakDb }, region.side, trial));
    }
    return causes;
}

}
