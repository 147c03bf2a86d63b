// What could pass here for the wrong reason: columns compared with code that shares their fault. So each
// column is compared with the curve evaluated directly, by a search over its points from the definition, at
// many places of the column; and the same curve moved by one column must be seen to differ.

#include "Editor/CurveColumns.h"

#include "Support/DrawnTakes.h"

#include <catch2/catch.hpp>

using namespace plumbline;
using namespace plumbline::test;

namespace
{

constexpr double notANumber = std::numeric_limits<double>::quiet_NaN();

struct Points
{
    std::vector<double> f, level;
    std::vector<bool> known;

    CurveView view() const { return { f, level, &known }; }
};

Points sampled(int perOctave, const std::function<double(double)>& level)
{
    Points points;
    const int last = static_cast<int>(perOctave * std::log2(1000.0));
    for (int i = 0; i <= last; ++i)
    {
        points.f.push_back(20.0 * std::pow(1000.0, static_cast<double>(i) / last));
        points.level.push_back(level(points.f.back()));
        points.known.push_back(true);
    }
    return points;
}

/** The definition: straight over log f between the two points around. */
double direct(const Points& points, double hz)
{
    for (std::size_t i = 0; i + 1 < points.f.size(); ++i)
        if (hz >= points.f[i] && hz <= points.f[i + 1])
        {
            const double part =
                (std::log(hz) - std::log(points.f[i])) / (std::log(points.f[i + 1]) - std::log(points.f[i]));
            return (1.0 - part) * points.level[i] + part * points.level[i + 1];
        }
    return hz < points.f.front() ? points.level.front() : points.level.back();
}

/** Largest deviation of columns from the curve evaluated directly, dB. */
double worst(const CurveColumns& columns, const Points& points, const ChartScale& scale, int moved = 0)
{
    double deviation = 0.0;
    for (int c = 5; c + 5 < columns.columns(); ++c)
    {
        const auto i = static_cast<std::size_t>(c);
        const double left = columns.firstColumn + c + moved;
        double low = 1e9, high = -1e9;
        const auto take = [&](double db)
        {
            low = std::min(low, db);
            high = std::max(high, db);
        };
        take(direct(points, scale.frequency(left)));
        take(direct(points, scale.frequency(left + 1.0)));
        for (std::size_t k = 0; k < points.f.size(); ++k)
            if (scale.x(points.f[k]) > left && scale.x(points.f[k]) < left + 1.0)
                take(points.level[k]);
        for (const double off :
             { std::abs(low - static_cast<double>(columns.lowDb[i])),
               std::abs(high - static_cast<double>(columns.highDb[i])),
               std::abs(direct(points, scale.frequency(left)) - static_cast<double>(columns.edgeDb[i])),
               std::abs(direct(points, scale.frequency(left + 0.5)) -
                        static_cast<double>(columns.middleDb[i])) })
            deviation = std::max(deviation, off);
    }
    return deviation;
}

}

TEST_CASE("Columns hold the least and the most of the curve in each, however many points there are")
{
    for (const int perOctave : { 3, 48, 300 })
        for (const double pxScale : { 1.0, 1.1, 2.5 })
        {
            const auto points = sampled(perOctave, roomLike(0.3, perOctave > 48 ? 6.0 : 0.0));
            const ChartScale scale({ 64.0 * pxScale, 6.0, 952.0 * pxScale, 320.0 }, 95.0);
            const auto columns = columnsOf(points.view(), scale);
            INFO(perOctave << " points an octave, scale " << pxScale);
            REQUIRE(columns.firstColumn == static_cast<int>(64.0 * pxScale));
            REQUIRE(columns.columns() >= static_cast<int>(952.0 * pxScale));
            REQUIRE(columns.runs.size() == 1);
            CHECK(columns.runs[0].first == columns.firstColumn);
            CHECK(columns.runs[0].end == columns.firstColumn + columns.columns());
            CHECK(worst(columns, points, scale) < 2e-4);
            CHECK(worst(columns, points, scale, 1) > 0.05); // the control
        }
}

TEST_CASE("Runs part what is known from what is not; a column that touches both is not known")
{
    auto points = sampled(12, [](double) { return 70.0; });
    for (std::size_t i = 0; i < points.f.size(); ++i)
        points.known[i] = points.f[i] > 100.0 && (points.f[i] < 1000.0 || points.f[i] > 1100.0);
    const ChartScale scale({ 0.0, 0.0, 952.0, 320.0 }, 95.0);
    const auto columns = columnsOf(points.view(), scale);
    REQUIRE(columns.runs.size() == 4);
    int at = 0;
    for (std::size_t k = 0; k < 4; ++k)
    {
        const auto& run = columns.runs[k];
        CHECK(run.first == at);
        CHECK(run.known == (k % 2 == 1));
        at = run.end;
        for (int c = run.first; c < run.end && run.known; ++c)
            for (const double x : { c + 0.01, c + 0.99 })
                CHECK(knownLevelAt(points.view(), scale.frequency(x)).has_value());
    }
    CHECK(at == 952);
}

TEST_CASE("Where there is no number nothing is drawn, and no number comes out of it")
{
    auto points = sampled(48, roomLike(1.0));
    for (std::size_t i = 0; i < points.f.size(); ++i)
    {
        if (points.f[i] < 40.0 || (points.f[i] > 300.0 && points.f[i] < 350.0))
            points.level[i] = notANumber;
        if (points.f[i] > 15000.0)
            points.level[i] = -std::numeric_limits<double>::infinity();
    }
    const ChartScale scale({ 0.0, 0.0, 952.0, 320.0 }, 95.0);
    const auto columns = columnsOf(points.view(), scale);
    REQUIRE(columns.runs.size() == 2);
    CHECK(columns.runs[0].first >= static_cast<int>(scale.x(40.0)));
    CHECK(columns.runs[0].end <= static_cast<int>(scale.x(300.0)) + 1);
    CHECK(columns.runs[1].first >= static_cast<int>(scale.x(350.0)));
    CHECK(columns.runs[1].end <= static_cast<int>(scale.x(15000.0)) + 1);
    for (const auto& each : { columns.edgeDb, columns.middleDb, columns.lowDb, columns.highDb })
        for (const float db : each)
            CHECK(std::isfinite(db));
    CHECK_FALSE(knownLevelAt(points.view(), 320.0));
    CHECK_FALSE(knownLevelAt(points.view(), 30.0));
    CHECK_FALSE(knownLevelAt(points.view(), 18000.0));
}

TEST_CASE("Curves of nothing, of one point, and beyond the plot do no harm")
{
    const ChartScale scale({ 0.0, 0.0, 952.0, 320.0 }, 95.0);
    CHECK(columnsOf({}, scale).runs.empty());
    CHECK_FALSE(knownLevelAt({}, 1000.0));
    const Points one{ { 1000.0 }, { 80.0 }, { true } };
    CHECK(columnsOf(one.view(), scale).runs.size() <= 1);
    CHECK(knownLevelAt(one.view(), 1000.0) == 80.0);
    const Points wide{ { 5.0, 50000.0 }, { 60.0, 60.0 }, { true, true } };
    const auto columns = columnsOf(wide.view(), scale);
    REQUIRE(columns.runs.size() == 1);
    CHECK(columns.runs[0].first == 0);
    CHECK(columns.runs[0].end == 952);
    CHECK(columns.middleDb[400] == Approx(60.0));
    const Points outside{ { 1.0, 2.0, 3.0 }, { 1.0, 1.0, 1.0 }, { true, true, true } };
    CHECK(columnsOf(outside.view(), scale).runs.empty());
}

TEST_CASE("Between two points a level is read straight over log frequency, and only where both are known")
{
    Points points{ { 100.0, 400.0, 1600.0 }, { 60.0, 72.0, 84.0 }, { true, true, false } };
    CHECK(*knownLevelAt(points.view(), 200.0) == Approx(66.0));
    CHECK(*knownLevelAt(points.view(), 400.0) == Approx(72.0));
    CHECK_FALSE(knownLevelAt(points.view(), 800.0));
    CHECK_FALSE(knownLevelAt(points.view(), 1600.0));
    CHECK_FALSE(knownLevelAt(points.view(), 99.0));
    CHECK_FALSE(knownLevelAt(points.view(), notANumber));
}

TEST_CASE("A range is unknown where no curve is known, up to the ends of the scale")
{
    const auto left = drawnResponse([](double) { return 0.0; }, 50.0, 12000.0);
    auto right = drawnResponse([](double) { return 0.0; }, 100.0, 16000.0);
    const std::vector<CurveView> both{ { left.frequencyHz, left.levelDb, &left.known },
                                       { right.frequencyHz, right.levelDb, &right.known } };
    auto ranges = unknownRanges(both);
    REQUIRE(ranges.size() == 2);
    CHECK(ranges[0].fromHz == 20.0);
    CHECK(ranges[0].toHz == Approx(50.0).epsilon(0.015));
    CHECK(ranges[1].fromHz == Approx(16000.0).epsilon(0.015));
    CHECK(ranges[1].toHz == 20000.0);
    const auto whole = drawnResponse([](double) { return 0.0; });
    CHECK(
        unknownRanges(std::vector<CurveView>{ { whole.frequencyHz, whole.levelDb, &whole.known } }).empty());
    ranges = unknownRanges({});
    REQUIRE(ranges.size() == 1);
    CHECK(ranges[0].fromHz == 20.0);
    CHECK(ranges[0].toHz == 20000.0);
    auto holed = whole;
    for (std::size_t i = 200; i < 210; ++i)
        holed.known[i] = false;
    CHECK(
        unknownRanges(std::vector<CurveView>{ { holed.frequencyHz, holed.levelDb, &holed.known } }).size() ==
        1);
}
