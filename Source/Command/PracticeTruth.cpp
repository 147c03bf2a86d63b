#include "Command/PracticeTruth.h"

#include "Core/Units.h"
#include "Dsp/FractionalOctave.h"
#include "Measure/Sweep.h"
#include "PracticeRoom/ChainResponse.h"

#include <cmath>

namespace plumbline
{

namespace
{

std::vector<double> unwrapped(const std::vector<std::complex<double>>& response,
                              const std::vector<double>& hz, double travelSeconds)
{
    std::vector<double> degrees;
    for (std::size_t i = 0; i < response.size(); ++i)
    {
        const double turned =
            degreesFromRadians(std::arg(response[i])) + 360.0 * std::remainder(hz[i] * travelSeconds, 1.0);
        const double before = degrees.empty() ? 0.0 : degrees.back();
        degrees.push_back(before + std::remainder(turned - before, 360.0));
    }
    return degrees;
}

Json sideTruth(const PracticeRoom& room, const Standing& standing, RoomSide side, std::size_t position,
               const std::vector<double>& hz)
{
    const auto path = room.path(standing, side, room.position(position));
    const bool loopback = room.scenario().converter.loopback;
    const auto response = loopback ? room.truthOverReference(path, hz) : room.truth(path, hz);
    const double travel = path.tweeterTravelSeconds + (loopback ? 0.0 : path.latencySeconds);
    std::vector<double> level;
    for (std::size_t i = 0; i < hz.size(); ++i)
        level.push_back(decibelsFromAmplitude(std::abs(response[i])) -
                        microphoneResponseDb(room.scenario().microphone, hz[i]));
    return { { "travelTimeSeconds", travel },
             { "frequencyHz", hz },
             { "levelDb", level },
             { "phaseDeg", unwrapped(response, hz, travel) } };
}

}

Json truthJson(const PracticeRoom& room)
{
    const auto hz = curveFrequencies(Band{}.fromHz, Band{}.toHz);
    Json truth{ { "schema", schemaName("truth", truthSchemaVersion) },
                { "sampleRateHz", room.sampleRateHz() } };
    truth["stances"] = Json::array();
    const auto& stances = room.scenario().stances;
    for (std::size_t s = 0; s < stances.size(); ++s)
    {
        const auto standing = room.standing(s);
        Json stance{ { "name", stanceName(stances[s]) }, { "positions", Json::array() } };
        for (std::size_t p = 0; p < room.positionCount(); ++p)
        {
            Json sides{ { "left", sideTruth(room, standing, RoomSide::left, p, hz) } };
            if (standing.cabinets.size() > 1)
                sides["right"] = sideTruth(room, standing, RoomSide::right, p, hz);
            stance["positions"].push_back(
                { { "name", room.positionName(p) }, { "sides", std::move(sides) } });
        }
        truth["stances"].push_back(std::move(stance));
    }
    return truth;
}

}
