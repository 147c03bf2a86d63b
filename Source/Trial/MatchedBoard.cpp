#include "Trial/MatchedBoard.h"

#include "Trial/Bands.h"

#include <algorithm>
#include <cmath>
#include <map>

namespace plumbline
{

namespace
{
std::unique_ptr<MatchedTake> matched(const TakeData& take, double levelDb)
{
    auto result = std::make_unique<MatchedTake>();
    result->take = &take;
    for (const auto& side : take.sides)
    {
        auto& curve = result->sides.emplace_back(side.levelDb);
        for (double& value : curve)
            value -= levelDb;
        result->thirds.push_back(thirdOctaveLevels(curve));
    }
    return result;
}
}

MatchedBoard::MatchedBoard(const std::vector<StanceData>& stances, const Band& matchBand) : band(matchBand)
{
    for (const auto& stance : stances)
        place(stance);
    std::vector<double> levels;
    for (const auto& stance : comparable)
        levels.push_back(stance.matchLevelDb);
    const auto trims = trimsFor(levels);
    for (std::size_t i = 0; i < comparable.size(); ++i)
        comparable[i].trimDb = trims[i];
    arrange();
    findCommon();
    remarkOnConditions(stances);
}

void MatchedBoard::place(const StanceData& stance)
{
    struct Gathered
    {
        std::vector<std::pair<const TakeData*, double>> seat;
        std::vector<const TakeData*> elsewhere;
    };

    std::map<int, Gathered> gathered;
    std::size_t unusable = 0;
    for (const auto& take : stance.takes)
    {
        if (take.position != seatName)
            gathered[take.setUp].elsewhere.push_back(&take);
        else if (const double level = matchLevelDb(take, band); std::isfinite(level))
            gathered[take.setUp].seat.push_back({ &take, level });
        else
            ++unusable;
    }
    if (unusable > 0)
        remarks.push_back(stance.name() + ": " + std::to_string(unusable) +
                          (unusable == 1 ? " take is" : " takes are") +
                          " left out, because the band that levels are matched over is not known in it.");
    MatchedStance result;
    result.data = &stance;
    double sum = 0.0;
    for (const auto& [number, group] : gathered)
    {
        if (group.seat.empty())
            continue;
        auto& setUp = result.setUps.emplace_back();
        setUp.number = number;
        for (const auto& [take, level] : group.seat)
        {
            setUp.seat.push_back(takes.emplace_back(matched(*take, level)).get());
            setUp.matchLevelDb += level / static_cast<double>(group.seat.size());
        }
        for (const auto* take : group.elsewhere)
            if (take->sides.size() == group.seat.front().first->sides.size())
                setUp.elsewhere.push_back(takes.emplace_back(matched(*take, setUp.matchLevelDb)).get());
        sum += setUp.matchLevelDb;
    }
    if (result.setUps.empty())
    {
        remarks.push_back(stance.name() + " has no take at the seat that can be compared.");
        return;
    }
    result.matchLevelDb = sum / static_cast<double>(result.setUps.size());
    comparable.push_back(std::move(result));
}

void MatchedBoard::arrange()
{
    for (const auto& stance : comparable)
    {
        auto& slices = seatLayout.stances.emplace_back();
        for (const auto& setUp : stance.setUps)
        {
            slices.push_back({ seat.size(), setUp.seat.size() });
            seat.insert(seat.end(), setUp.seat.begin(), setUp.seat.end());
        }
    }
    seatLayout.takes = seat.size();
}

void MatchedBoard::findCommon()
{
    common.assign(curveGrid::points, !seat.empty());
    commonBands.assign(thirdOctaves().size(), !seat.empty());
    for (const auto* take : seat)
        for (std::size_t side = 0; side < take->sides.size(); ++side)
        {
            for (std::size_t i = 0; i < common.size(); ++i)
                if (!std::isfinite(take->sides[side][i]))
                    common[i] = false;
            for (std::size_t i = 0; i < commonBands.size(); ++i)
                if (!std::isfinite(take->thirds[side][i]))
                    commonBands[i] = false;
        }
    for (auto& take : takes)
        for (auto& side : take->thirds)
            for (std::size_t i = 0; i < commonBands.size(); ++i)
                if (!commonBands[i])
                    side[i] = unknownValue;
}

void MatchedBoard::remarkOnConditions(const std::vector<StanceData>& all)
{
    const TakeConditions* first = nullptr;
    bool rates = false, calibrations = false, smoothings = false, warmth = false;
    for (const auto& stance : all)
        for (const auto& take : stance.takes)
        {
            const auto& c = take.conditions;
            if (first == nullptr)
                first = &c;
            rates = rates || c.sampleRateHz != first->sampleRateHz;
            calibrations = calibrations || c.calibration != first->calibration;
            smoothings = smoothings || c.smoothingPerOctave != first->smoothingPerOctave;
            warmth = warmth || std::abs(c.temperatureC - first->temperatureC) > 2.0;
        }
    const auto say = [&](bool differ, const char* what)
    {
        if (differ)
            remarks.push_back(std::string("Takes differ in ") + what +
                              ": they are compared on the band that all of them know.");
    };
    say(rates, "sample rate");
    say(calibrations, "microphone or calibration");
    say(warmth, "temperature by more than 2 degrees");
    if (smoothings)
        remarks.push_back("Takes differ in smoothing: analyse them alike before trusting differences.");
}

}
