#include "Editor/CurveColumns.h"

#include <algorithm>
#include <cmath>

namespace plumbline
{

namespace
{

bool usable(const CurveView& curve, std::size_t i)
{
    return std::isfinite(curve.levelDb[i]) && std::isfinite(curve.frequencyHz[i]) &&
           curve.frequencyHz[i] > 0.0;
}

bool knownPoint(const CurveView& curve, std::size_t i)
{
    return usable(curve, i) && (curve.known == nullptr || (i < curve.known->size() && (*curve.known)[i]));
}

/** Points first..last of a curve, without a gap, read from left to right. */
class Stretch
{
public:
    Stretch(const CurveView& curveView, const ChartScale& chartScale, std::size_t first, std::size_t end)
        : curve(curveView), last(end - 1), at(first)
    {
        place.reserve(end - first);
        for (auto i = first; i < end; ++i)
            place.push_back(chartScale.x(curve.frequencyHz[i]));
        begin = first;
    }

    double left() const { return place.front(); }

    double right() const { return place.back(); }

    /** The level at x, which never goes back; the end's own level beyond an end. */
    double level(double x)
    {
        while (at + 1 < last && placeOf(at + 1) <= x)
            ++at;
        if (at == last || x <= placeOf(at))
            return curve.levelDb[at];
        const double part = std::min(1.0, (x - placeOf(at)) / (placeOf(at + 1) - placeOf(at)));
        return curve.levelDb[at] + part * (curve.levelDb[at + 1] - curve.levelDb[at]);
    }

    /** Widens low..high by the points strictly before x, and tells whether all that was passed is known. */
    bool passUpTo(double x, float& low, float& high)
    {
        bool known = knownPoint(curve, next) && (next == begin || knownPoint(curve, next - 1));
        while (next < last && placeOf(next) < x)
        {
            low = std::min(low, static_cast<float>(curve.levelDb[next]));
            high = std::max(high, static_cast<float>(curve.levelDb[next]));
            ++next;
            known = known && knownPoint(curve, next);
        }
        return known;
    }

    /** Skips the points that lie before x. */
    void startFrom(double x)
    {
        next = begin;
        while (next < last && placeOf(next) < x)
            ++next;
    }

private:
    double placeOf(std::size_t i) const { return place[i - begin]; }

    const CurveView& curve;
    std::vector<double> place;
    std::size_t begin = 0, last, at, next = 0;
};

void append(CurveColumns& columns, Stretch& stretch, int from, int to)
{
    const auto index = [&](int column) { return static_cast<std::size_t>(column - columns.firstColumn); };
    stretch.startFrom(from);
    columns.edgeDb[index(from)] = static_cast<float>(stretch.level(from));
    for (int column = from; column < to; ++column)
    {
        const auto i = index(column);
        columns.middleDb[i] = static_cast<float>(stretch.level(column + 0.5));
        const auto before = columns.edgeDb[i];
        const auto after = columns.edgeDb[i + 1] = static_cast<float>(stretch.level(column + 1.0));
        float low = std::min(before, after), high = std::max(before, after);
        const bool known = stretch.passUpTo(column + 1.0, low, high);
        columns.lowDb[i] = low;
        columns.highDb[i] = high;
        if (columns.runs.empty() || columns.runs.back().end != column || columns.runs.back().known != known)
            columns.runs.push_back({ column, column, known });
        columns.runs.back().end = column + 1;
    }
}

}

CurveColumns columnsOf(const CurveView& curve, const ChartScale& scale)
{
    CurveColumns columns;
    const auto count = std::min(curve.frequencyHz.size(), curve.levelDb.size());
    columns.firstColumn = static_cast<int>(std::floor(scale.area().left));
    const int end = static_cast<int>(std::ceil(scale.area().right() - 1e-6));
    const auto wide = static_cast<std::size_t>(std::max(0, end - columns.firstColumn));
    columns.edgeDb.resize(wide + 1);
    for (auto* each : { &columns.middleDb, &columns.lowDb, &columns.highDb })
        each->resize(wide);
    int from = columns.firstColumn;
    for (std::size_t first = 0, after; first < count; first = after)
    {
        for (after = first; after < count && usable(curve, after);)
            ++after;
        if (after == first)
        {
            ++after;
            continue;
        }
        Stretch stretch(curve, scale, first, after);
        from = std::max(from, static_cast<int>(std::floor(std::max(stretch.left(), -1e6) + 1e-6)));
        const int to = std::min(end, static_cast<int>(std::ceil(std::min(stretch.right(), 1e6) - 1e-6)));
        if (from < to)
        {
            append(columns, stretch, from, to);
            from = to;
        }
    }
    return columns;
}

std::optional<double> knownLevelAt(const CurveView& curve, double hz)
{
    const auto& f = curve.frequencyHz;
    if (f.empty() || !(hz >= f.front() * (1.0 - 1e-9)) || !(hz <= f.back() * (1.0 + 1e-9)))
        return std::nullopt;
    const auto above = static_cast<std::size_t>(std::lower_bound(f.begin(), f.end(), hz) - f.begin());
    const auto upper = std::min(above, f.size() - 1);
    const auto lower = upper > 0 && f[upper] > hz ? upper - 1 : upper;
    if (!knownPoint(curve, lower) || !knownPoint(curve, upper))
        return std::nullopt;
    if (lower == upper)
        return curve.levelDb[upper];
    const double part = std::log(hz / f[lower]) / std::log(f[upper] / f[lower]);
    return curve.levelDb[lower] + part * (curve.levelDb[upper] - curve.levelDb[lower]);
}

namespace
{

/** Where one curve is known, as ranges of frequency. A lone known point is none. */
std::vector<UnknownRange> knownRanges(const CurveView& curve)
{
    std::vector<UnknownRange> ranges;
    for (std::size_t i = 0; i + 1 < curve.frequencyHz.size(); ++i)
    {
        if (!knownPoint(curve, i) || !knownPoint(curve, i + 1))
            continue;
        if (ranges.empty() || ranges.back().toHz != curve.frequencyHz[i])
            ranges.push_back({ curve.frequencyHz[i], curve.frequencyHz[i] });
        ranges.back().toHz = curve.frequencyHz[i + 1];
    }
    return ranges;
}

}

std::vector<UnknownRange> unknownRanges(std::span<const CurveView> curves)
{
    std::vector<UnknownRange> known, unknown;
    for (const auto& curve : curves)
        for (const auto& range : knownRanges(curve))
            known.push_back(range);
    std::sort(known.begin(), known.end(), [](const auto& a, const auto& b) { return a.fromHz < b.fromHz; });
    // The frequencies of curves are 1/48 octave apart: an end that lies nearer to the scale's is no gap.
    constexpr double hair = 1.0146;
    double upTo = ChartScale::lowHz;
    for (const auto& range : known)
    {
        if (range.fromHz > upTo * hair)
            unknown.push_back({ upTo, range.fromHz });
        upTo = std::max(upTo, range.toHz);
    }
    if (ChartScale::highHz > upTo * hair)
        unknown.push_back({ upTo, ChartScale::highHz });
    return unknown;
}

}
