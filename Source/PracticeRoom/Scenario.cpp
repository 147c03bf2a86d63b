#include "PracticeRoom/Scenario.h"

#include "PracticeRoom/Standing.h"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <set>

namespace plumbline
{

namespace
{
constexpr std::array<std::string_view, 3> names{ "upright", "side, tweeters out", "side, tweeters in" };

/** Collects the first fault found; every check after it is passed over. */
class Inspector
{
public:
    std::optional<Problem> found;

    void refuse(bool bad, const std::string& where, const std::string& what, const std::string& remedy = {})
    {
        if (bad && !found)
            found = Problem{ "scenario-not-possible", what, where, remedy };
    }

    void within(double value, double lowest, double highest, const std::string& where,
                const std::string& unit)
    {
        refuse(!(value >= lowest && value <= highest), where,
               shortNumber(value) + unit + " is not between " + shortNumber(lowest) + " and " +
                   shortNumber(highest) + unit);
    }

private:
    static std::string shortNumber(double value)
    {
        char text[32];
        std::snprintf(text, sizeof text, "%.6g", value);
        return text;
    }
};

std::string quoted(const std::string& text)
{
    return "\"" + text + "\"";
}

void inspectStudio(Inspector& inspector, const Studio& studio)
{
    inspector.within(studio.size.depthM, 1.5, 30.0, "studio.size.depthM", " m");
    inspector.within(studio.size.widthM, 1.5, 30.0, "studio.size.widthM", " m");
    inspector.within(studio.size.heightM, 1.8, 15.0, "studio.size.heightM", " m");
    inspector.within(studio.temperatureC, -10.0, 45.0, "studio.temperatureC", " degrees");
    inspector.refuse(studio.t60Seconds.has_value() == studio.absorption.has_value(), "studio",
                     "a room is described by t60Seconds or by absorption, one of the two",
                     "Give exactly one");
    if (studio.t60Seconds)
        for (double seconds : *studio.t60Seconds)
            inspector.within(seconds, 0.02, 3.0, "studio.t60Seconds", " s");
    if (studio.absorption)
        for (const BandValues* surface :
             { &studio.absorption->walls, &studio.absorption->floor, &studio.absorption->ceiling })
            for (double share : *surface)
                inspector.within(share, 0.0, 1.0, "studio.absorption", "");
    if (studio.desk)
    {
        const DeskModel& desk = *studio.desk;
        inspector.within(desk.strength, 0.0, 1.0, "studio.desk.strength", "");
        inspector.within(desk.topHeightM, 0.0, studio.size.heightM, "studio.desk.topHeightM", " m");
        inspector.refuse(!(desk.fromXM < desk.toXM && desk.fromYM < desk.toYM), "studio.desk",
                         "the desk ends before it begins", "Give fromXM below toXM and fromYM below toYM");
    }
}

void inspectBumps(Inspector& inspector, const std::vector<ResponseBump>& bumps, const std::string& where)
{
    for (const ResponseBump& bump : bumps)
    {
        inspector.within(bump.frequencyHz, 10.0, 30000.0, where + ".frequencyHz", " Hz");
        inspector.within(bump.levelDb, -30.0, 30.0, where + ".levelDb", " dB");
        inspector.within(bump.q, 0.1, 20.0, where + ".q", "");
    }
}

void inspectMonitor(Inspector& inspector, const MonitorModel& monitor)
{
    const std::string where = "monitor " + quoted(monitor.name);
    inspector.refuse(monitor.name.empty(), "monitors", "a monitor has no name");
    inspector.refuse(monitor.name.find(',') != std::string::npos, where,
                     "a monitor's name may hold no comma, which parts it from the orientation");
    for (double size : { monitor.cabinetWidthCm, monitor.cabinetHeightCm, monitor.cabinetDepthCm })
        inspector.within(size, 0.0, 200.0, where + ", cabinet", " cm");
    inspector.within(monitor.driverSpacingM, 0.0, 1.0, where + ", driverSpacingM", " m");
    inspector.within(monitor.wooferRadiusM, 0.0, 0.3, where + ", wooferRadiusM", " m");
    inspector.within(monitor.tweeterRadiusM, 0.0, 0.3, where + ", tweeterRadiusM", " m");
    if (monitor.crossoverHz != 0.0)
        inspector.within(monitor.crossoverHz, 100.0, 10000.0, where + ", crossoverHz", " Hz");
    inspector.within(monitor.lowOrder, 0, 8, where + ", lowOrder", "");
    inspector.within(monitor.highOrder, 0, 8, where + ", highOrder", "");
    inspector.within(monitor.lowCornerHz, 10.0, 500.0, where + ", lowCornerHz", " Hz");
    inspector.within(monitor.highCornerHz, 2000.0, 100000.0, where + ", highCornerHz", " Hz");
    inspector.within(monitor.trimDb, -40.0, 40.0, where + ", trimDb", " dB");
    inspectBumps(inspector, monitor.bumps, where + ", bumps");
    inspectBumps(inspector, monitor.rightLessLeft, where + ", rightLessLeft");
}

void inspectMicrophone(Inspector& inspector, const MicrophoneModel& microphone)
{
    inspector.within(microphone.gainDb, -60.0, 40.0, "microphone.gainDb", " dB");
    if (microphone.noiseDbfs)
        inspector.within(*microphone.noiseDbfs, -200.0, 0.0, "microphone.noiseDbfs", " dBFS");
    double last = 0.0;
    for (const ResponsePoint& point : microphone.response)
    {
        inspector.within(point.levelDb, -100.0, 100.0, "microphone.response", " dB");
        inspector.refuse(!(point.frequencyHz > last && std::isfinite(point.frequencyHz)),
                         "microphone.response", "frequencies must rise from above 0 Hz");
        last = point.frequencyHz;
    }
    std::set<std::string> seen{ "seat" };
    for (const NamedPosition& position : microphone.positions)
    {
        inspector.refuse(position.name.empty(), "microphone.positions", "a position has no name");
        inspector.refuse(!seen.insert(position.name).second, "microphone.positions",
                         quoted(position.name) + " is there twice (\"seat\" always is)");
    }
}

void inspectRest(Inspector& inspector, const Scenario& scenario)
{
    inspector.within(scenario.sampleRateHz, 8000.0, 400000.0, "sampleRateHz", " Hz");
    const ConverterModel& converter = scenario.converter;
    inspector.within(converter.latencySamples, 64, 100000, "converter.latencySamples", " samples");
    if (converter.highPassHz)
        inspector.within(*converter.highPassHz, 1.0, 500.0, "converter.highPassHz", " Hz");
    inspector.within(converter.tiltDb, -20.0, 20.0, "converter.tiltDb", " dB");
    inspector.within(scenario.errors.microphoneM, 0.0, 0.1, "errors.microphoneM", " m");
    inspector.within(scenario.errors.cabinetM, 0.0, 0.1, "errors.cabinetM", " m");
    inspector.within(scenario.errors.cabinetTurnDegrees, 0.0, 20.0, "errors.cabinetTurnDegrees", " degrees");
    const ScenarioPlan& plan = scenario.plan;
    inspector.within(plan.setUps, 1, 100, "plan.setUps", "");
    inspector.within(plan.takes, 1, 1000, "plan.takes", "");
    inspector.within(plan.sweepSeconds, 1.0, 30.0, "plan.sweepSeconds", " s");
    inspector.within(plan.levelDbfs, -80.0, -6.0, "plan.levelDbfs", " dBFS");
    inspector.within(plan.leadInSeconds, 0.1, 10.0, "plan.leadInSeconds", " s");
    inspector.within(plan.silenceSeconds, 1.0, 10.0, "plan.silenceSeconds", " s");
    inspector.within(std::abs(scenario.placement.toeInDegrees), 0.0, 90.0, "placement.toeInDegrees",
                     " degrees");
}

bool inside(const Vec3& place, const RoomSize& size, double margin)
{
    return place.x >= margin && place.x <= size.depthM - margin && place.y >= margin &&
           place.y <= size.widthM - margin && place.z >= margin && place.z <= size.heightM - margin;
}

std::vector<Vec3> microphonePlaces(const MicrophoneModel& microphone)
{
    std::vector<Vec3> places{ microphone.seatM };
    for (const NamedPosition& position : microphone.positions)
        places.push_back(microphone.seatM + Vec3{ position.xCm, position.yCm, position.zCm } * 0.01);
    return places;
}

/** Everything must stand in the room, with room left to be moved by mistake, and no driver in the microphone.
 */
void inspectPlaces(Inspector& inspector, const Scenario& scenario)
{
    const PlacingErrors& errors = scenario.errors;
    const std::vector<Vec3> places = microphonePlaces(scenario.microphone);
    for (const Vec3& place : places)
        inspector.refuse(!inside(place, scenario.studio.size, 0.02 + 6.0 * errors.microphoneM), "microphone",
                         "a position is outside the room or too near a wall");
    for (const ScenarioStance& stance : scenario.stances)
    {
        const auto monitor = std::find_if(scenario.monitors.begin(), scenario.monitors.end(),
                                          [&](const MonitorModel& m) { return m.name == stance.monitor; });
        inspector.refuse(monitor == scenario.monitors.end(), "stances",
                         quoted(stance.monitor) + " is none of the monitors");
        if (monitor == scenario.monitors.end())
            return;
        for (RoomSide side : { RoomSide::left, RoomSide::right })
        {
            const Cabinet cabinet = standCabinet(scenario.placement, *monitor, stance.orientation, side);
            for (const Vec3& driver : { cabinet.woofer, cabinet.tweeter })
            {
                inspector.refuse(
                    !inside(driver, scenario.studio.size, 0.02 + 6.0 * errors.cabinetM), "placement",
                    "a driver of " + quoted(stance.monitor) + " is outside the room or too near a wall");
                for (const Vec3& place : places)
                    inspector.refuse(!(length(driver - place) >= 0.25), "placement",
                                     "a driver of " + quoted(stance.monitor) +
                                         " is nearer than 25 cm to the microphone");
            }
        }
    }
}
}

std::string_view orientationName(CabinetOrientation orientation)
{
    return names[static_cast<std::size_t>(orientation)];
}

std::optional<CabinetOrientation> orientationNamed(std::string_view name)
{
    for (CabinetOrientation orientation : cabinetOrientations)
        if (orientationName(orientation) == name)
            return orientation;
    return std::nullopt;
}

std::string stanceName(const ScenarioStance& stance)
{
    return stance.monitor + ", " + std::string(orientationName(stance.orientation));
}

std::optional<Problem> fault(const Scenario& scenario)
{
    Inspector inspector;
    inspector.refuse(scenario.monitors.empty(), "monitors", "there is no monitor in the room");
    inspector.refuse(scenario.stances.empty(), "stances", "there is no stance to measure");
    inspectStudio(inspector, scenario.studio);
    std::set<std::string> seen;
    for (const MonitorModel& monitor : scenario.monitors)
    {
        inspectMonitor(inspector, monitor);
        inspector.refuse(!seen.insert(monitor.name).second, "monitors",
                         quoted(monitor.name) + " is there twice");
    }
    seen.clear();
    for (const ScenarioStance& stance : scenario.stances)
        inspector.refuse(!seen.insert(stanceName(stance)).second, "stances",
                         quoted(stanceName(stance)) + " is there twice");
    inspectMicrophone(inspector, scenario.microphone);
    inspectRest(inspector, scenario);
    if (!inspector.found)
        inspectPlaces(inspector, scenario);
    return inspector.found;
}

}
