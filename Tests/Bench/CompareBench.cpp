// What comparing a board costs: stances of 2 set-ups x 3 takes, both sides, from takes to sentences.
//
//   plumbline_compare_bench
//
// What could come out right here for the wrong reason: takes that are all alike, of which nothing is called and no region
// is described. So stances differ by some dB, takes scatter, and regions and verdicts that were called are counted.
#include "Timing.h"

#include "Dsp/Random.h"
#include "Trial/Comparison.h"

#include <cmath>

using namespace plumbline;
using namespace plumbline::bench;

namespace
{
/** Smooth over an octave or so, as what a cabinet's place changes. */
void addWaves(Curve& curve, double sizeDb, Random& random)
{
    for (int wave = 1; wave <= 5; ++wave)
    {
        const double phase = 6.283 * random.uniform();
        for (std::size_t i = 0; i < curve.size(); ++i)
            curve[i] += sizeDb * std::sin(0.03 * wave * static_cast<double>(i) + phase);
    }
}

std::vector<StanceData> boardOf(std::size_t pairs)
{
    Random random(1);
    std::vector<StanceData> board;
    for (std::size_t pair = 0; pair < pairs; ++pair)
        for (const char* orientation : { "upright", "side, tweeters out", "side, tweeters in" })
        {
            StanceData stance{ { "Pair " + std::to_string(pair + 1), orientation }, {}, {} };
            Curve shape(curveGrid::points, 0.0);
            addWaves(shape, 1.0, random);
            for (int setUp = 1; setUp <= 2; ++setUp)
                for (int i = 0; i < 3; ++i)
                {
                    TakeData take;
                    take.setUp = setUp;
                    take.sides.resize(2);
                    for (auto& side : take.sides)
                    {
                        side.levelDb = shape;
                        addWaves(side.levelDb, 0.1, random);
                        side.travelSeconds = 0.004 + 1e-6 * random.uniform();
                        side.polarity = 1;
                    }
                    stance.takes.push_back(take);
                }
            board.push_back(stance);
        }
    return board;
}
}

int main()
{
    std::printf("%-9s %-10s %-8s %s\n", "stances", "median", "regions", "called (of verdicts)");
    for (const std::size_t pairs : { std::size_t{ 1 }, std::size_t{ 2 }, std::size_t{ 4 } })
    {
        const auto board = boardOf(pairs);
        std::vector<double> seconds;
        std::shared_ptr<const Comparison> result;
        for (int i = 0; i < 11; ++i)
        {
            auto copy = board;
            seconds.push_back(timed([&] { result = compare(std::move(copy), {}); }));
        }
        std::size_t called = 0;
        for (const auto& verdict : result->verdicts)
            called += verdict.call == Call::tooClose ? 0 : 1;
        std::printf("%-9zu %6.1f ms %8zu %zu (of %zu)\n", board.size(), 1000.0 * quartilesOf(seconds).median,
                    result->regions.size(), called, result->verdicts.size());
    }
}
