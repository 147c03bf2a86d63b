#include "Trial/Summary.h"

#include "Trial/Words.h"

#include <algorithm>
#include <cmath>

namespace plumbline
{

namespace
{
std::string joined(const std::vector<std::string>& items)
{
    std::string text;
    for (std::size_t i = 0; i < items.size(); ++i)
        text += (i == 0 ? "" : i + 1 == items.size() ? " and " : "; ") + items[i];
    return text;
}

class Teller
{
public:
    explicit Teller(const Comparison& told) : comparison(told), order(told.order) {}

    std::vector<std::string> tell()
    {
        if (order.places.empty())
            lines.push_back("There is nothing to compare yet: no stance has a take at the seat.");
        else if (order.places.size() == 1)
            lines.push_back("Only " + name(0) + " was measured: a second stance is wanted for a comparison.");
        else
        {
            sayWhoLeads();
            sayWhatDecided();
            sayHowSure();
            sayWhereItDiffers();
            sayWhatNext();
        }
        const auto& notes = comparison.board->notes();
        lines.insert(lines.end(), notes.begin(), notes.end());
        return std::move(lines);
    }

private:
    std::string name(std::size_t place) const { return nameOf(order.places[place].stance); }

    std::string nameOf(std::size_t stance) const { return comparison.stance(stance).name(); }

    bool firmAtTop() const { return comparison.facts->firm(order.places[0].stance, order.places[1].stance); }

    void sayWhoLeads()
    {
        const auto& tied = order.places.front().tiedWith;
        std::string text;
        if (tied.empty())
            text = name(0) + " leads";
        else if (tied.size() + 1 == order.places.size())
            text = "No stance leads: all are too close to call";
        else
        {
            std::vector<std::string> others;
            for (const auto stance : tied)
                others.push_back(nameOf(stance));
            text = name(0) + " leads, too close to call with " + joined(others);
        }
        lines.push_back(text + (firmAtTop() ? "." : ", not firmly: this assumes the pair returns exactly."));
    }

    /** "evenness (0.9 +- 0.3 dB)" for each verdict of the leader against the second that was called so. */
    std::vector<std::string> called(bool forLeader) const
    {
        std::vector<std::pair<double, std::string>> found;
        const std::size_t leader = order.places[0].stance;
        for (const auto& verdict : comparison.between(leader, order.places[1].stance))
        {
            if (verdict.call == Call::tooClose ||
                (verdict.call == Call::better) != ((verdict.a == leader) == forLeader))
                continue;
            const auto& reading = comparison.readings[verdict.reading];
            const auto size = withPlusMinus(std::abs(verdict.difference.difference),
                                            verdict.difference.plusMinus, reading.unit);
            const double worth =
                std::abs(verdict.difference.points) * weightOf(reading, comparison.settings.weights);
            found.push_back({ -worth, reading.name + " (" + size + ")" });
        }
        std::sort(found.begin(), found.end());
        std::vector<std::string> texts;
        for (const auto& [worth, text] : found)
            texts.push_back(text);
        return texts;
    }

    void sayWhatDecided()
    {
        const auto better = called(true), worse = called(false);
        if (better.empty() && worse.empty())
        {
            lines.push_back("Between " + name(0) + " and " + name(1) +
                            " every reading is too close to call.");
            return;
        }
        std::string text = "Against " + name(1) + " ";
        if (!better.empty())
            text += "it is better on " + joined(better);
        if (!worse.empty())
            text += (better.empty() ? "it is worse on " : ", and worse on ") + joined(worse);
        lines.push_back(text + "; the other readings are too close to call.");
    }

    void sayHowSure()
    {
        const double share = order.places.front().firstShare;
        if (!std::isfinite(share))
        {
            lines.push_back("How sure the order is cannot be said: nothing was measured twice.");
            return;
        }
        const auto times = std::min(99L, std::lround(100.0 * share));
        lines.push_back("Drawn again with the spread of the " +
                        std::string(comparison.facts->putBackMeasured() ? "set-ups" : "takes") + ", " +
                        name(0) + " comes first " + std::to_string(times) + " times of 100.");
    }

    /** The largest regions between the leader and the same pair in another orientation, else the second. */
    void sayWhereItDiffers()
    {
        const std::size_t leader = order.places[0].stance;
        std::size_t other = order.places[1].stance;
        for (const auto& place : order.places)
            if (place.stance != leader &&
                comparison.stance(place.stance).stance.monitor == comparison.stance(leader).stance.monitor)
            {
                other = place.stance;
                break;
            }
        std::vector<DifferenceRegion> found;
        for (auto region : comparison.regions)
        {
            if (region.a == other && region.b == leader)
                found.push_back(region);
            else if (region.a == leader && region.b == other)
            {
                std::swap(region.a, region.b);
                region.differenceDb = -region.differenceDb;
                found.push_back(region);
            }
        }
        const auto size = [](const DifferenceRegion& r)
        { return std::abs(r.differenceDb) * std::log2(r.toHz / r.fromHz); };
        std::sort(found.begin(), found.end(),
                  [&](const auto& a, const auto& b) { return size(a) > size(b); });
        if (found.size() > 2)
            found.resize(2);
        for (const auto& region : found)
            lines.push_back(nameOf(other) + " against " + nameOf(leader) + ", " +
                            regionWords(region, *comparison.board) + ".");
    }

    void sayWhatNext()
    {
        const auto between = comparison.between(order.places[0].stance, order.places[1].stance);
        if (std::none_of(between.begin(), between.end(),
                         [](const Verdict& v) { return v.call == Call::tooClose; }))
            return;
        if (!comparison.next)
        {
            lines.push_back("What is open between " + name(0) + " and " + name(1) +
                            " would not be settled by " + std::to_string(mostFurtherSetUps) +
                            " more set-ups of each: take them as equal there.");
            return;
        }
        std::vector<std::string> names;
        for (const auto stance : comparison.next->stances)
            names.push_back(nameOf(stance));
        const int times = comparison.next->times;
        const std::string often = times == 1   ? "once more"
                                  : times == 2 ? "twice more"
                                               : std::to_string(times) + " times more";
        if (comparison.next->reading)
            lines.push_back("Next: lift and re-stand " + joined(names) + " " + often +
                            "; that would settle " + comparison.readings[*comparison.next->reading].name +
                            ".");
        else
            lines.push_back("Next: lift and re-stand " + joined(names) +
                            " once more, to learn how far a pair returns to its place.");
    }

    const Comparison& comparison;
    const StanceOrder& order;
    std::vector<std::string> lines;
};
}

std::vector<std::string> summaryOf(const Comparison& comparison)
{
    return Teller(comparison).tell();
}

}
