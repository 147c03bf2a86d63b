#include "Plugin/PracticeStand.h"

#include "Files/ScenarioFile.h"

#include <algorithm>
#include <EmbeddedPresets.h>

namespace plumbline
{

namespace
{

/** The same trial gives the same room, with the same errors of placing. FNV-1a, 64 bit. */
std::uint64_t seedOf(const std::string& text)
{
    std::uint64_t hash = 14695981039346656037u;
    for (const char c : text)
        hash = (hash ^ static_cast<unsigned char>(c)) * 1099511628211u;
    return hash >> 12;
}

Scenario scenarioOf(const Scenario& shipped, const Trial& trial)
{
    Scenario scenario = shipped;
    scenario.monitors.clear();
    scenario.stances.clear();
    for (const auto& monitor : trial.monitors)
    {
        scenario.monitors.push_back(practiceModel(monitor, shipped));
        for (const auto orientation : cabinetOrientations)
            scenario.stances.push_back({ monitor.name, orientation });
    }
    return scenario;
}

}

MicrophoneSetting practiceMicrophone(const Scenario& scenario)
{
    MicrophoneSetting setting;
    setting.temperatureC = scenario.studio.temperatureC;
    std::vector<Calibration::Point> points;
    for (const auto& point : scenario.microphone.response)
        points.push_back({ point.frequencyHz, point.levelDb, 0.0 });
    if (auto calibration = Calibration::fromPoints("practice microphone", std::move(points), false))
        setting.calibration = std::move(*calibration);
    return setting;
}

MonitorModel practiceModel(const Monitor& monitor, const Scenario& shipped)
{
    for (const auto& model : shipped.monitors)
        if (model.name == monitor.name)
            return model;
    MonitorModel model;
    model.name = monitor.name;
    model.kind = monitor.kind == Monitor::Kind::pair ? MonitorModel::Kind::pair : MonitorModel::Kind::single;
    model.cabinetWidthCm = monitor.widthCm.value_or(model.cabinetWidthCm);
    model.cabinetHeightCm = monitor.heightCm.value_or(model.cabinetHeightCm);
    model.cabinetDepthCm = monitor.depthCm.value_or(model.cabinetDepthCm);
    model.driverSpacingM = monitor.driverSpacingCm.value_or(100.0 * model.driverSpacingM) / 100.0;
    model.crossoverHz = monitor.crossoverHz.value_or(model.crossoverHz);
    if (monitor.wooferCm)
    {
        // The cone's radius is about 0.43 of the nominal diameter, and a smaller woofer reaches less low
        // (common practice, no source).
        model.wooferRadiusM = 0.43 * *monitor.wooferCm / 100.0;
        model.lowCornerHz = std::clamp(750.0 / *monitor.wooferCm, 30.0, 120.0);
    }
    // Units of a pair differ a little, each pair in its own way.
    Random chance(seedOf(monitor.name));
    for (const double hz : { 700.0, 2500.0, 8000.0 })
    {
        const double frequencyHz = hz * std::exp2(chance.uniform() - 0.5);
        model.bumps.push_back({ frequencyHz, 3.0 * (chance.uniform() - 0.5), 2.0 });
        model.rightLessLeft.push_back({ frequencyHz * 1.4, 1.2 * (chance.uniform() - 0.5), 1.4 });
    }
    return model;
}

Result<const Scenario*> PracticeStand::shippedScenario()
{
    if (!shipped)
    {
        const std::string text(presets::threepairs_json,
                               static_cast<std::size_t>(presets::threepairs_jsonSize));
        auto read = scenarioFromText(text, "the practice room that comes with the program");
        if (!read)
            return read.problem();
        shipped = std::move(*read);
    }
    return &*shipped;
}

Result<MicrophoneSetting> PracticeStand::microphone()
{
    const auto scenario = shippedScenario();
    if (!scenario)
        return scenario.problem();
    return practiceMicrophone(**scenario);
}

Result<std::unique_ptr<RoomLoop>> PracticeStand::loop(const Trial& trial, const std::string& stance,
                                                      int setUp, int take, double sampleRateHz)
{
    const auto scenario = shippedScenario();
    if (!scenario)
        return scenario.problem();
    auto wanted = scenarioOf(**scenario, trial);
    if (auto impossible = fault(wanted))
        return *impossible;
    const auto found = std::find_if(wanted.stances.begin(), wanted.stances.end(),
                                    [&](const ScenarioStance& s) { return stanceName(s) == stance; });
    if (found == wanted.stances.end())
        return Problem{ "no-stance", "The practice room cannot stand a pair up like this", stance,
                        "It knows upright, and on the side with the tweeters out or in" };
    const TakeLabel label{ static_cast<std::size_t>(found - wanted.stances.begin()), setUp - 1, take, 0 };
    const auto seed = seedOf(trial.id);
    if (!room || room->scenario() != wanted || room->sampleRateHz() != sampleRateHz || roomSeed != seed)
        room.emplace(std::move(wanted), sampleRateHz, seed);
    roomSeed = seed;
    return std::unique_ptr<RoomLoop>(new RoomLoop(room->loop(label, false)));
}

}
