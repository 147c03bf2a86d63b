#include "Files/ScenarioFile.h"

#include "Files/Json.h"

#include <set>

namespace plumbline
{

namespace
{

constexpr double anySize = 1e6;

/** Reads one object; every key that is asked for is known, any other is refused at the end. */
class Reader
{
public:
    Reader(const Json& object, std::string where) : value(object), fields(object, std::move(where)) {}

    void number(const char* key, double& into)
    {
        known.insert(key);
        into = fields.numberOr(key, into, -anySize, anySize);
    }

    void number(const char* key, std::optional<double>& into)
    {
        known.insert(key);
        if (fields.has(key))
            into = fields.number(key, -anySize, anySize);
    }

    void whole(const char* key, int& into)
    {
        known.insert(key);
        if (fields.has(key))
            into = static_cast<int>(fields.count(key, 1000000));
    }

    void flag(const char* key, bool& into)
    {
        known.insert(key);
        into = fields.flagOr(key, into);
    }

    void text(const char* key, std::string& into)
    {
        known.insert(key);
        into = fields.textOr(key, into);
    }

    /** `read` gets a Reader of the member, if there is one. */
    template <class Read>
    void object(const char* key, Read read)
    {
        known.insert(key);
        if (!fields.has(key))
            return;
        Reader inner(fields.member(key), fields.where() + ", " + key);
        read(inner);
        take(inner);
    }

    template <class Item, class Read>
    void list(const char* key, std::vector<Item>& into, Read read)
    {
        known.insert(key);
        if (!fields.has(key))
            return;
        const Json& items = fields.member(key);
        if (!items.is_array())
            return fields.complain(std::string("\"") + key + "\" must be a list");
        for (std::size_t i = 0; i < items.size(); ++i)
        {
            Reader inner(items[i], fields.where() + ", " + key + " " + std::to_string(i + 1));
            Item item;
            read(inner, item);
            take(inner);
            into.push_back(std::move(item));
        }
    }

    void bands(const char* key, BandValues& into)
    {
        known.insert(key);
        const Json& values = fields.member(key);
        if (!values.is_array() || values.size() != into.size())
            return fields.complain(std::string("\"") + key +
                                   "\" must be ten numbers, one an octave from 31.5 Hz");
        for (std::size_t i = 0; i < into.size(); ++i)
            if (values[i].is_number())
                into[i] = values[i].get<double>();
            else
                fields.complain(std::string("\"") + key + "\" must be ten numbers");
    }

    bool has(const char* key) const { return fields.has(key); }

    void complain(const std::string& what) { fields.complain(what); }

    std::optional<Problem> fault()
    {
        if (value.is_object())
            for (const auto& item : value.items())
                if (!known.contains(item.key()))
                    fields.complain("\"" + item.key() + "\" is not a key of a scenario");
        return fields.fault();
    }

private:
    void take(Reader& inner)
    {
        if (auto found = inner.fault())
            fields.complain(found->what + " (" + inner.fields.where() + ")");
    }

    const Json& value;
    JsonFields fields;
    std::set<std::string> known;
};

void readBump(Reader& reader, ResponseBump& bump)
{
    reader.number("frequencyHz", bump.frequencyHz);
    reader.number("levelDb", bump.levelDb);
    reader.number("q", bump.q);
}

void readStudio(Reader& reader, Studio& studio)
{
    reader.text("name", studio.name);
    reader.object("size",
                  [&](Reader& size)
                  {
                      size.number("depthM", studio.size.depthM);
                      size.number("widthM", studio.size.widthM);
                      size.number("heightM", studio.size.heightM);
                  });
    if (reader.has("t60Seconds"))
        reader.bands("t60Seconds", studio.t60Seconds.emplace());
    reader.object("absorption",
                  [&](Reader& inner)
                  {
                      auto& absorption = studio.absorption.emplace();
                      inner.bands("walls", absorption.walls);
                      inner.bands("floor", absorption.floor);
                      inner.bands("ceiling", absorption.ceiling);
                  });
    reader.object("desk",
                  [&](Reader& inner)
                  {
                      auto& desk = studio.desk.emplace();
                      inner.number("topHeightM", desk.topHeightM);
                      inner.number("fromXM", desk.fromXM);
                      inner.number("toXM", desk.toXM);
                      inner.number("fromYM", desk.fromYM);
                      inner.number("toYM", desk.toYM);
                      inner.number("strength", desk.strength);
                  });
    reader.number("temperatureC", studio.temperatureC);
}

void readMonitor(Reader& reader, MonitorModel& monitor)
{
    reader.text("name", monitor.name);
    std::string kind = "pair";
    reader.text("kind", kind);
    if (kind != "pair" && kind != "single")
        reader.complain("\"kind\" must be \"pair\" or \"single\"");
    monitor.kind = kind == "single" ? MonitorModel::Kind::single : MonitorModel::Kind::pair;
    reader.number("cabinetWidthCm", monitor.cabinetWidthCm);
    reader.number("cabinetHeightCm", monitor.cabinetHeightCm);
    reader.number("cabinetDepthCm", monitor.cabinetDepthCm);
    reader.number("driverSpacingM", monitor.driverSpacingM);
    reader.number("wooferRadiusM", monitor.wooferRadiusM);
    reader.number("tweeterRadiusM", monitor.tweeterRadiusM);
    reader.number("crossoverHz", monitor.crossoverHz);
    reader.number("lowCornerHz", monitor.lowCornerHz);
    reader.whole("lowOrder", monitor.lowOrder);
    reader.number("highCornerHz", monitor.highCornerHz);
    reader.whole("highOrder", monitor.highOrder);
    reader.list("bumps", monitor.bumps, readBump);
    reader.list("rightLessLeft", monitor.rightLessLeft, readBump);
    reader.number("trimDb", monitor.trimDb);
}

void readPoint(Reader& reader, const char* key, Vec3& point)
{
    reader.object(key,
                  [&](Reader& inner)
                  {
                      inner.number("x", point.x);
                      inner.number("y", point.y);
                      inner.number("z", point.z);
                  });
}

void readMicrophone(Reader& reader, MicrophoneModel& microphone)
{
    readPoint(reader, "seatM", microphone.seatM);
    reader.list("positions", microphone.positions,
                [](Reader& inner, NamedPosition& position)
                {
                    inner.text("name", position.name);
                    inner.number("xCm", position.xCm);
                    inner.number("yCm", position.yCm);
                    inner.number("zCm", position.zCm);
                });
    reader.number("gainDb", microphone.gainDb);
    reader.number("noiseDbfs", microphone.noiseDbfs);
    std::string colour = "pink";
    reader.text("noiseColour", colour);
    if (colour != "pink" && colour != "white")
        reader.complain("\"noiseColour\" must be \"pink\" or \"white\"");
    microphone.noiseColour =
        colour == "white" ? MicrophoneModel::NoiseColour::white : MicrophoneModel::NoiseColour::pink;
    reader.list("response", microphone.response,
                [](Reader& inner, ResponsePoint& point)
                {
                    inner.number("frequencyHz", point.frequencyHz);
                    inner.number("levelDb", point.levelDb);
                });
}

void readPlacing(Reader& reader, Scenario& scenario)
{
    reader.object("placement",
                  [&](Reader& inner)
                  {
                      inner.number("frontM", scenario.placement.frontM);
                      inner.number("apartM", scenario.placement.apartM);
                      inner.number("toeInDegrees", scenario.placement.toeInDegrees);
                      inner.number("heightM", scenario.placement.heightM);
                      inner.number("axisM", scenario.placement.axisM);
                  });
    reader.object("errors",
                  [&](Reader& inner)
                  {
                      inner.number("microphoneM", scenario.errors.microphoneM);
                      inner.number("cabinetM", scenario.errors.cabinetM);
                      inner.number("cabinetTurnDegrees", scenario.errors.cabinetTurnDegrees);
                  });
}

void readChain(Reader& reader, Scenario& scenario)
{
    reader.object("converter",
                  [&](Reader& inner)
                  {
                      inner.whole("latencySamples", scenario.converter.latencySamples);
                      inner.number("highPassHz", scenario.converter.highPassHz);
                      inner.number("tiltDb", scenario.converter.tiltDb);
                      inner.flag("loopback", scenario.converter.loopback);
                  });
    reader.object("plan",
                  [&](Reader& inner)
                  {
                      inner.whole("setUps", scenario.plan.setUps);
                      inner.whole("takes", scenario.plan.takes);
                      inner.number("sweepSeconds", scenario.plan.sweepSeconds);
                      inner.number("levelDbfs", scenario.plan.levelDbfs);
                      inner.number("leadInSeconds", scenario.plan.leadInSeconds);
                      inner.number("silenceSeconds", scenario.plan.silenceSeconds);
                  });
}

void readStance(Reader& reader, ScenarioStance& stance)
{
    std::string orientation;
    reader.text("monitor", stance.monitor);
    reader.text("orientation", orientation);
    if (const auto named = orientationNamed(orientation))
        stance.orientation = *named;
    else
        reader.complain(
            "\"orientation\" must be \"upright\", \"side, tweeters out\" or \"side, tweeters in\"");
}

}

Result<Scenario> scenarioFromText(const std::string& text, const std::string& where)
{
    const auto value = jsonFromText(text, "scenario", scenarioSchemaVersion, where);
    if (!value)
        return value.problem();
    Reader reader(*value, where);
    Scenario scenario;
    std::string schema;
    reader.text("schema", schema);
    reader.text("name", scenario.name);
    reader.text("about", scenario.about);
    reader.number("sampleRateHz", scenario.sampleRateHz);
    reader.object("studio", [&](Reader& inner) { readStudio(inner, scenario.studio); });
    readPlacing(reader, scenario);
    reader.list("monitors", scenario.monitors, readMonitor);
    reader.object("microphone", [&](Reader& inner) { readMicrophone(inner, scenario.microphone); });
    readChain(reader, scenario);
    reader.list("stances", scenario.stances, readStance);
    if (auto found = reader.fault())
        return *found;
    if (auto found = fault(scenario))
    {
        found->where = where + (found->where.empty() ? "" : ", " + found->where);
        return *found;
    }
    return scenario;
}

Result<Scenario> readScenario(const std::filesystem::path& file)
{
    constexpr std::size_t mostBytes = 4u << 20;
    const auto text = readTextFile(file, mostBytes);
    if (!text)
        return text.problem();
    return scenarioFromText(*text, file.string());
}

}
