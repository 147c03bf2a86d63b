#pragma once

#include "Trial/MatchedBoard.h"
#include "Trial/Reading.h"
#include "Trial/ReadingEstimate.h"
#include "Trial/Readings/Registry.h"
#include "Trial/StanceData.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <functional>
#include <string>
#include <vector>

namespace plumbline::test
{

/** Level in dB over frequency, of one side. */
using Shape = std::function<double(double hz)>;

inline Shape flat(double levelDb)
{
    return [levelDb](double) { return levelDb; };
}

/** So many dB an octave, 0 dB at 1 kHz. */
inline Shape slope(double perOctave)
{
    return [perOctave](double hz) { return perOctave * std::log2(hz / 1000.0); };
}

inline Shape plus(Shape a, Shape b)
{
    return [a, b](double hz) { return a(hz) + b(hz); };
}

/** A step of `levelDb` from fromHz to toHz, nothing outside. */
inline Shape step(double fromHz, double toHz, double levelDb)
{
    return [=](double hz) { return hz >= fromHz && hz <= toHz ? levelDb : 0.0; };
}

inline Curve curveOf(const Shape& shape, double lowHz = 20.0, double highHz = 20000.0)
{
    auto curve = unknownCurve();
    for (std::size_t i = 0; i < curve.size(); ++i)
        if (const double hz = curveGrid::frequencyHz(i); hz >= lowHz && hz <= highHz)
            curve[i] = shape(hz);
    return curve;
}

inline TakeData takeOf(const Shape& left, const Shape& right, int setUp = 1,
                       const std::string& position = seatName)
{
    TakeData take;
    take.setUp = setUp;
    take.position = position;
    take.sides.resize(2);
    take.sides[0].levelDb = curveOf(left);
    take.sides[1].levelDb = curveOf(right);
    for (auto& side : take.sides)
    {
        side.travelSeconds = 0.004;
        side.polarity = 1;
    }
    return take;
}

inline StanceData stanceOf(const std::string& name, std::vector<TakeData> takes)
{
    const auto stance = parseStance(name).value();
    Monitor monitor;
    monitor.name = stance.monitor;
    return { stance, monitor, std::move(takes) };
}

/** One stance of one take, both sides alike. */
inline std::vector<StanceData> oneTake(const Shape& shape)
{
    return { stanceOf("Heron 6, upright", { takeOf(shape, shape) }) };
}

inline Reading readingNamed(const std::string& name, const ToleranceMask& mask = plainMask())
{
    for (auto& reading : allReadings({ mask }))
        if (reading.name == name)
            return reading;
    FAIL("there is no reading of this name: " << name);
    return {};
}

/** A reading of the first stance of a board. */
inline ReadingValue valueOf(const std::string& name, const std::vector<StanceData>& stances,
                            std::size_t stance = 0)
{
    const MatchedBoard board(stances, usualMatchBand);
    const auto reading = readingNamed(name);
    return ReadingEstimate(board, reading).value(stance);
}

}
