#include "Trial/SeatChange.h"

#include <algorithm>
#include <cmath>
#include <set>

namespace plumbline
{

namespace
{
std::set<std::string> namesIn(const MatchedStance& stance)
{
    std::set<std::string> names;
    for (const auto& setUp : stance.setUps)
        for (const auto* take : setUp.elsewhere)
            names.insert(take->take->position);
    return names;
}

/** Mean over the takes at a position of what `read` gives; empty if there are none. */
template <class Read>
std::vector<double> meanAt(const std::vector<const MatchedTake*>& takes, const std::string& position,
                           Read read)
{
    std::vector<double> sum;
    double count = 0.0;
    for (const auto* take : takes)
        if (take->take->position == position)
        {
            const std::vector<double> values = read(*take);
            sum.resize(values.size(), 0.0);
            for (std::size_t i = 0; i < values.size(); ++i)
                sum[i] += values[i];
            count += 1.0;
        }
    for (double& value : sum)
        value /= count;
    return sum;
}

enum class Way
{
    aside,
    foreAndAft,
    other
};

Way wayOf(const std::string& name, const std::vector<Position>& positions)
{
    const auto found =
        std::find_if(positions.begin(), positions.end(), [&](const auto& p) { return p.name == name; });
    if (found == positions.end() || !found->offsetCm)
        return Way::other;
    const auto [right, back, up] = *found->offsetCm;
    if (std::abs(right) > std::max(std::abs(back), std::abs(up)))
        return Way::aside;
    return std::abs(back) > std::max(std::abs(right), std::abs(up)) ? Way::foreAndAft : Way::other;
}

struct Squares
{
    std::vector<double> sum = std::vector<double>(curveGrid::points, 0.0);
    double count = 0.0;

    void add(const std::vector<double>& change)
    {
        for (std::size_t i = 0; i < sum.size(); ++i)
            sum[i] += change[i] * change[i];
        count += 1.0;
    }

    Curve root() const
    {
        auto curve = unknownCurve();
        for (std::size_t i = 0; count > 0.0 && i < sum.size(); ++i)
            curve[i] = std::sqrt(sum[i] / count);
        return curve;
    }
};
}

std::vector<std::string> positionsOfAll(const MatchedBoard& board)
{
    std::set<std::string> common;
    bool first = true;
    for (const auto& stance : board.stances())
    {
        const auto names = namesIn(stance);
        if (names.empty())
            continue;
        std::set<std::string> both;
        std::set_intersection(common.begin(), common.end(), names.begin(), names.end(),
                              std::inserter(both, both.end()));
        common = first ? names : both;
        first = false;
    }
    return { common.begin(), common.end() };
}

std::vector<double> thirdsChange(const std::vector<const MatchedTake*>& seat,
                                 const std::vector<const MatchedTake*>& elsewhere,
                                 const std::string& position, const std::vector<std::size_t>& bands)
{
    const auto thirds = [&](const MatchedTake& take)
    {
        std::vector<double> levels;
        for (const auto& side : take.thirds)
            for (const auto band : bands)
                levels.push_back(side[band]);
        return levels;
    };
    auto change = meanAt(elsewhere, position, thirds);
    const auto here = meanAt(seat, seatName, thirds);
    if (change.size() != here.size())
        return {};
    for (std::size_t i = 0; i < change.size(); ++i)
    {
        change[i] -= here[i];
        if (!std::isfinite(change[i]))
            return {};
    }
    return change;
}

SeatChangeCurves seatChangeOf(const MatchedStance& stance, const std::vector<Position>& positions)
{
    Squares all, aside, foreAndAft;
    for (const auto& name : namesIn(stance))
        for (std::size_t side = 0; side < stance.sideCount(); ++side)
        {
            // Each set-up has its own seat to change from; set-ups count alike.
            std::vector<double> change(curveGrid::points, 0.0);
            double setUps = 0.0;
            for (const auto& setUp : stance.setUps)
            {
                const auto curve = [&](const MatchedTake& take) { return take.sides[side]; };
                const auto there = meanAt(setUp.elsewhere, name, curve),
                           here = meanAt(setUp.seat, seatName, curve);
                if (there.empty())
                    continue;
                for (std::size_t i = 0; i < change.size(); ++i)
                    change[i] += there[i] - here[i];
                setUps += 1.0;
            }
            for (double& value : change)
                value /= setUps;
            all.add(change);
            if (const auto way = wayOf(name, positions); way != Way::other)
                (way == Way::aside ? aside : foreAndAft).add(change);
        }
    return { all.root(), aside.root(), foreAndAft.root(), namesIn(stance).size() };
}

}
