#include "Trial/PracticeBank.h"

#include "Dsp/Fft.h"
#include "Dsp/FractionalOctave.h"

#include <cmath>
#include <cstdlib>

namespace plumbline::test
{

namespace
{
MonitorModel pair(const char* name, double widthCm, double spacingM, double wooferM, double crossoverHz,
                  double lowHz)
{
    MonitorModel model;
    model.name = name;
    model.cabinetWidthCm = widthCm;
    model.driverSpacingM = spacingM;
    model.wooferRadiusM = wooferM;
    model.tweeterRadiusM = 0.0125;
    model.crossoverHz = crossoverHz;
    model.lowCornerHz = lowHz;
    return model;
}

Vec3 jittered(const Vec3& place, double metres, Random& random)
{
    const double x = random.normal(), y = random.normal(), z = random.normal();
    return place + Vec3{ x, y, z } * metres;
}

double powerOf(std::span<const std::complex<double>> bins, double binHz)
{
    double sum = 0.0;
    std::size_t count = 0;
    for (std::size_t k = static_cast<std::size_t>(200.0 / binHz);
         k < static_cast<std::size_t>(5000.0 / binHz); ++k)
    {
        sum += std::norm(bins[k]);
        ++count;
    }
    return sum / static_cast<double>(count);
}

SideData sideFrom(const RealisedPath& path, Random& random)
{
    std::size_t length = 16384;
    while (length < path.taps.size())
        length *= 2;
    SpectrumBuffer spectrum(length, path.taps.size(),
                            [&](double* to) { std::copy(path.taps.begin(), path.taps.end(), to); });
    const auto fft = Fft::ofLength(length);
    fft->forward(spectrum.samples());
    const std::span<const std::complex<double>> bins(spectrum.bins(), fft->bins());
    const double binHz = path.sampleRateHz / static_cast<double>(length);
    const double noise = std::sqrt(0.5 * powerOf(bins, binHz)) * std::pow(10.0, -55.0 / 20.0);
    std::vector<double> power;
    for (const auto bin : bins)
    {
        const double real = random.normal(), imaginary = random.normal();
        power.push_back(std::norm(bin + noise * std::complex(real, imaginary)));
    }
    const BandPower bands(power, binHz);
    const OctaveFraction twelfth{ 12 };
    SideData side;
    side.levelDb = side.noiseDb = side.sdDb = unknownCurve();
    for (const double hz : curveFrequencies(20.0, 20000.0))
        side.levelDb[*curveGrid::indexOf(hz)] =
            10.0 * std::log10(bands.mean(twelfth.lowEdge(hz), twelfth.highEdge(hz)));
    side.travelSeconds = path.tweeterTravelSeconds;
    side.polarity = 1;
    return side;
}

PracticeBank emptyBank(const Scenario& scenario)
{
    PracticeBank bank;
    for (const auto& stance : scenario.stances)
    {
        bank.stances.push_back({ stance.monitor, std::string(orientationName(stance.orientation)) });
        for (const auto& model : scenario.monitors)
            if (model.name == stance.monitor)
            {
                Monitor monitor;
                monitor.name = model.name;
                monitor.driverSpacingCm = 100.0 * model.driverSpacingM;
                monitor.crossoverHz = model.crossoverHz;
                bank.monitors.push_back(monitor);
            }
    }
    return bank;
}
}

Scenario threePairs(double decaySeconds)
{
    Scenario scenario;
    scenario.name = "three pairs";
    auto& t60 = scenario.studio.t60Seconds.emplace();
    const BandValues shape{ 1.3, 1.25, 1.2, 1.1, 1.0, 1.0, 0.95, 0.9, 0.8, 0.7 };
    for (std::size_t b = 0; b < t60.size(); ++b)
        t60[b] = decaySeconds * shape[b];
    scenario.studio.desk = DeskModel{};
    auto heron = pair("Heron 6", 21, 0.178, 0.064, 2200, 48);
    heron.bumps = { { 820, 0.9, 2.2 }, { 3400, -1.1, 3 }, { 9800, 1.2, 2.5 } };
    heron.rightLessLeft = { { 1700, 0.3, 1.2 }, { 7600, -0.5, 1.5 } };
    auto tarn = pair("Tarn 5", 18, 0.142, 0.052, 2700, 62);
    tarn.bumps = { { 1250, 1.6, 3 }, { 5200, 1.3, 2.4 }, { 14000, -1.5, 2 } };
    tarn.rightLessLeft = { { 2400, 0.5, 1.4 }, { 9000, -0.4, 1.5 } };
    tarn.trimDb = 1.8;
    auto osier = pair("Osier 8", 27, 0.236, 0.086, 1700, 42);
    osier.bumps = { { 140, 2.1, 1.1 }, { 1100, -2.1, 2.4 }, { 7000, 0.9, 2 } };
    osier.rightLessLeft = { { 500, 0.4, 1.2 }, { 6000, 0.5, 1.5 } };
    osier.trimDb = -2.4;
    scenario.monitors = { heron, tarn, osier };
    for (const auto& monitor : scenario.monitors)
        for (const auto orientation : cabinetOrientations)
            scenario.stances.push_back({ monitor.name, orientation });
    return scenario;
}

TakeData takeFrom(const PracticeRoom& room, const Standing& standing, const Vec3& microphone, Random& noise)
{
    TakeData take;
    take.conditions.sampleRateHz = room.sampleRateHz();
    for (const auto side : { RoomSide::left, RoomSide::right })
        take.sides.push_back(sideFrom(room.path(standing, side, microphone), noise));
    return take;
}

StanceData PracticeBank::stance(std::size_t index, const std::vector<std::vector<std::size_t>>& chosen) const
{
    StanceData data{ stances[index], monitors[index], {} };
    int number = 0;
    for (const auto& setUp : chosen)
    {
        ++number;
        for (std::size_t i = 1; i < setUp.size(); ++i)
        {
            data.takes.push_back(takes[index][setUp[0]][setUp[i]]);
            data.takes.back().setUp = number;
        }
    }
    return data;
}

namespace
{
std::size_t below(std::size_t count, Random& random)
{
    return static_cast<std::size_t>(random.uniform() * static_cast<double>(count));
}
}

StanceData PracticeBank::draw(std::size_t index, std::size_t setUps, std::size_t takesEach,
                              Random& random) const
{
    std::vector<std::vector<std::size_t>> chosen;
    for (std::size_t i = 0; i < setUps; ++i)
    {
        auto& setUp = chosen.emplace_back();
        setUp.push_back(below(takes[index].size(), random));
        for (std::size_t take = 0; take < takesEach; ++take)
            setUp.push_back(take);
    }
    return stance(index, chosen);
}

StanceData PracticeBank::drawTakes(std::size_t index, std::size_t count, Random& random) const
{
    std::vector<std::size_t> setUp{ 0 };
    for (std::size_t i = 0; i < count; ++i)
        setUp.push_back(below(takes[index][0].size(), random));
    return stance(index, { setUp });
}

PracticeBank untouchedBank(const Scenario& scenario, std::size_t takes, std::uint64_t seed)
{
    const PracticeRoom room(scenario, scenario.sampleRateHz, seed);
    auto bank = emptyBank(scenario);
    for (std::size_t stance = 0; stance < scenario.stances.size(); ++stance)
    {
        Random random = Random(seed).branch(stance);
        const auto standing = room.standing(stance);
        auto& list = bank.takes.emplace_back().emplace_back();
        for (std::size_t i = 0; i < takes; ++i)
            list.push_back(
                takeFrom(room, standing, jittered(scenario.microphone.seatM, 0.01, random), random));
    }
    return bank;
}

PracticeBank putBackBank(const Scenario& scenario, std::size_t setUps, std::size_t takesEach,
                         std::uint64_t seed)
{
    auto placing = scenario;
    placing.errors = { 0.01, 0.005, 1.0 };
    const PracticeRoom room(placing, placing.sampleRateHz, seed);
    auto bank = emptyBank(placing);
    for (std::size_t stance = 0; stance < placing.stances.size(); ++stance)
    {
        Random random = Random(seed).branch(1000 + stance);
        auto& list = bank.takes.emplace_back();
        for (std::size_t i = 0; i < setUps; ++i)
        {
            const auto standing = room.standing(stance, static_cast<int>(i));
            const auto reset = jittered(placing.microphone.seatM, 0.01, random);
            auto& setUp = list.emplace_back();
            for (std::size_t take = 0; take < takesEach; ++take)
                setUp.push_back(takeFrom(room, standing, jittered(reset, 0.01, random), random));
        }
    }
    return bank;
}

std::size_t asked(const char* variable, std::size_t otherwise)
{
    const char* text = std::getenv(variable);
    return text == nullptr ? otherwise : std::strtoull(text, nullptr, 10);
}

}
