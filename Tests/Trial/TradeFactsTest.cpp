// What could pass here for the wrong reason: a change that is large everywhere, of which any part is large.
// So the change in the bass is held against the change about the crossover and above, in the same room, for
// the same pair. Facts of the trade: common practice, no source.

#include "Trial/Bands.h"
#include "Trial/MatchedBoard.h"
#include "Trial/PracticeBank.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <iostream>
#include <numeric>

using namespace plumbline;
using namespace plumbline::test;

namespace
{
double rootMeanSquare(const std::vector<double>& values)
{
    double sum = 0.0;
    for (const double value : values)
        sum += value * value / static_cast<double>(values.size());
    return std::sqrt(sum);
}

/** Change of third-octave level from upright to a side stance, both sides, in bands of these names. */
std::vector<double> change(const MatchedBoard& board, std::size_t side, std::size_t upright, double lowHz,
                           double highHz)
{
    std::vector<double> values;
    for (std::size_t channel = 0; channel < 2; ++channel)
        for (const auto band : bandsFromTo(lowHz, highHz))
            values.push_back(board.seatTakes()[side]->thirds[channel][band] -
                             board.seatTakes()[upright]->thirds[channel][band]);
    return values;
}
}

namespace
{
/** All nine stances, exactly in place; microphone at the seat. */
std::vector<StanceData> measured(const Scenario& scenario)
{
    const PracticeRoom room(scenario, scenario.sampleRateHz, 1);
    Random quiet(1);
    std::vector<StanceData> stances;
    for (std::size_t s = 0; s < scenario.stances.size(); ++s)
    {
        StanceData data{ { scenario.stances[s].monitor,
                           std::string(orientationName(scenario.stances[s].orientation)) },
                         {},
                         {} };
        data.takes.push_back(takeFrom(room, room.standing(s), scenario.microphone.seatM, quiet));
        stances.push_back(data);
    }
    return stances;
}
}

TEST_CASE("Turning a two-way on its side changes its direct sound about the crossover, where paths differ")
{
    auto scenario = threePairs(0.26);
    scenario.studio.t60Seconds.reset();
    scenario.studio.desk.reset();
    auto& absorption = scenario.studio.absorption.emplace();
    absorption.walls.fill(1.0);
    absorption.floor.fill(1.0);
    absorption.ceiling.fill(1.0);
    const auto stances = measured(scenario);
    const MatchedBoard board(stances, usualMatchBand);
    for (std::size_t pair = 0; pair < 3; ++pair)
        for (const std::size_t orientation : { std::size_t{ 1 }, std::size_t{ 2 } })
        {
            const std::size_t side = 3 * pair + orientation;
            // Less what both have in common: matching by a band that the crossover lies in moves the whole
            // curve.
            auto low = change(board, side, 3 * pair, 50, 500);
            const double level =
                std::accumulate(low.begin(), low.end(), 0.0) / static_cast<double>(low.size());
            auto about = change(board, side, 3 * pair, 1600, 3150);
            for (auto* values : { &low, &about })
                for (double& value : *values)
                    value -= level;
            std::cout << stances[side].name() << ", direct sound: " << rootMeanSquare(low)
                      << " dB to 500 Hz, " << rootMeanSquare(about) << " dB from 1.6 to 3.15 kHz\n";
            CHECK(rootMeanSquare(about) > 0.8);
            CHECK(rootMeanSquare(about) > 5.0 * rootMeanSquare(low));
        }
}

TEST_CASE("In the room the bass changes too, because turning moves the woofer")
{
    // The middle between the drivers stays in place, so the woofer comes up by half their spacing and goes
    // aside by as much: its reflections from floor and desk change. What is said of the crossover is said of
    // the direct sound.
    const auto stances = measured(threePairs(0.26));
    const MatchedBoard board(stances, usualMatchBand);
    for (std::size_t pair = 0; pair < 3; ++pair)
    {
        const double low = rootMeanSquare(change(board, 3 * pair + 1, 3 * pair, 31.5, 250));
        const double high = rootMeanSquare(change(board, 3 * pair + 1, 3 * pair, 1000, 8000));
        std::cout << stances[3 * pair + 1].name() << ", in the room: " << low << " dB under 250 Hz, " << high
                  << " dB from 1 kHz\n";
        CHECK(high > 0.8);
        CHECK(low > 0.3);
    }
}
