#include "Files/TrialFolder.h"

#include <algorithm>
#include <map>
#include <set>

namespace plumbline
{

namespace
{
Json monitorJson(const Monitor& monitor)
{
    Json value{ { "name", monitor.name },
                { "kind", monitor.kind == Monitor::Kind::pair ? "pair" : "single" } };
    auto put = [&](const char* key, const std::optional<double>& size)
    {
        if (size)
            value[key] = *size;
    };
    put("widthCm", monitor.widthCm);
    put("heightCm", monitor.heightCm);
    put("depthCm", monitor.depthCm);
    put("driverSpacingCm", monitor.driverSpacingCm);
    put("crossoverHz", monitor.crossoverHz);
    put("wooferCm", monitor.wooferCm);
    return value;
}

template <class Item, class Read>
std::vector<Item> readList(JsonFields& fields, const char* key, Read read)
{
    std::vector<Item> items;
    const Json& list = fields.member(key);
    if (!list.is_array())
        fields.complain(std::string("\"") + key + "\" must be a list");
    else
        for (std::size_t i = 0; i < list.size() && !fields.fault(); ++i)
        {
            JsonFields item(list[i], fields.where() + ", " + key + " " + std::to_string(i + 1));
            items.push_back(read(item));
            if (item.fault())
                fields.complain(std::string(key) + " " + std::to_string(i + 1) + ": " + item.fault()->what);
        }
    return items;
}

std::optional<double> optionalNumber(JsonFields& fields, const char* key, double most)
{
    return fields.has(key) ? std::optional(fields.number(key, 0.0, most)) : std::nullopt;
}

Monitor readMonitor(JsonFields& fields)
{
    Monitor monitor;
    monitor.name = fields.text("name");
    const auto kind = fields.text("kind");
    if (kind != "pair" && kind != "single")
        fields.complain("\"kind\" must be \"pair\" or \"single\"");
    monitor.kind = kind == "single" ? Monitor::Kind::single : Monitor::Kind::pair;
    monitor.widthCm = optionalNumber(fields, "widthCm", 1000.0);
    monitor.heightCm = optionalNumber(fields, "heightCm", 1000.0);
    monitor.depthCm = optionalNumber(fields, "depthCm", 1000.0);
    monitor.driverSpacingCm = optionalNumber(fields, "driverSpacingCm", 1000.0);
    monitor.crossoverHz = optionalNumber(fields, "crossoverHz", 100000.0);
    monitor.wooferCm = optionalNumber(fields, "wooferCm", 1000.0);
    return monitor;
}

Position readPosition(JsonFields& fields)
{
    constexpr double far = 1e5;
    Position position{ fields.text("name"), std::nullopt };
    if (fields.has("rightCm"))
        position.offsetCm = { fields.number("rightCm", -far, far), fields.number("backCm", -far, far),
                              fields.number("upCm", -far, far) };
    return position;
}

Json positionJson(const Position& position)
{
    Json value{ { "name", position.name } };
    if (position.offsetCm)
    {
        value["rightCm"] = (*position.offsetCm)[0];
        value["backCm"] = (*position.offsetCm)[1];
        value["upCm"] = (*position.offsetCm)[2];
    }
    return value;
}

TakeEntry readTake(JsonFields& fields)
{
    TakeEntry take;
    take.id = fields.text("id");
    take.setUp = static_cast<int>(fields.count("setUp", 1000000));
    take.position = fields.text("position");
    take.keep = fields.flagOr("keep", true);
    take.reason = fields.textOr("reason", "");
    return take;
}

template <class Items, class Key>
void refuseTwice(JsonFields& fields, const char* what, const Items& items, Key key)
{
    std::set<std::string> seen;
    for (const auto& item : items)
        if (!seen.insert(key(item)).second)
            fields.complain(std::string("there are two ") + what + " called \"" + key(item) + '"');
}

void refuseNamesakes(JsonFields& fields, const Trial& trial)
{
    refuseTwice(fields, "monitors", trial.monitors, [](const Monitor& m) { return m.name; });
    refuseTwice(fields, "stances", trial.stances, [](const Stance& s) { return s.name(); });
    refuseTwice(fields, "positions", trial.positions, [](const Position& p) { return p.name; });
    refuseTwice(fields, "set-ups", trial.setUps, [](const SetUp& s) { return std::to_string(s.id); });
    refuseTwice(fields, "set-ups of a stance", trial.setUps,
                [](const SetUp& s) { return s.stance + ", set-up " + std::to_string(s.number); });
    refuseTwice(fields, "takes", trial.takes, [](const TakeEntry& t) { return t.id; });
}

template <class Items, class Predicate>
bool holds(const Items& items, Predicate matches)
{
    return std::any_of(items.begin(), items.end(), matches);
}

/** Every name that is referred to must be there. */
void checkReferences(JsonFields& fields, const Trial& trial)
{
    for (const auto& stance : trial.stances)
    {
        if (!holds(trial.monitors, [&](const Monitor& m) { return m.name == stance.monitor; }))
            fields.complain("the monitor of \"" + stance.name() + "\" is not listed");
        if (!holds(trial.orientations, [&](const std::string& o) { return o == stance.orientation; }))
            fields.complain("the orientation of \"" + stance.name() + "\" is not listed");
    }
    for (const auto& setUp : trial.setUps)
        if (trial.stance(setUp.stance) == nullptr)
            fields.complain("set-up " + std::to_string(setUp.id) + " is of a stance that is not listed");
    for (const auto& take : trial.takes)
    {
        if (trial.setUp(take.setUp) == nullptr)
            fields.complain("take \"" + take.id + "\" is of a set-up that is not listed");
        if (!holds(trial.positions, [&](const Position& p) { return p.name == take.position; }))
            fields.complain("take \"" + take.id + "\" is at a position that is not listed");
    }
}
}

Json toJson(const Trial& trial)
{
    Json value{ { "schema", schemaName("trial", trialSchemaVersion) },
                { "id", trial.id },
                { "name", trial.name },
                { "room", trial.room } };
    for (const char* key : { "monitors", "orientations", "stances", "positions", "setUps", "takes" })
        value[key] = Json::array();
    for (const auto& monitor : trial.monitors)
        value["monitors"].push_back(monitorJson(monitor));
    for (const auto& orientation : trial.orientations)
        value["orientations"].push_back(orientation);
    for (const auto& s : trial.stances)
        value["stances"].push_back({ { "name", s.name() } });
    for (const auto& p : trial.positions)
        value["positions"].push_back(positionJson(p));
    for (const auto& s : trial.setUps)
        value["setUps"].push_back(
            { { "id", s.id }, { "stance", s.stance }, { "number", s.number }, { "stoodUp", s.stoodUp } });
    for (const auto& t : trial.takes)
        value["takes"].push_back({ { "id", t.id },
                                   { "setUp", t.setUp },
                                   { "position", t.position },
                                   { "keep", t.keep },
                                   { "reason", t.reason } });
    return value;
}

Result<Trial> trialFromJson(const Json& value, const std::string& where)
{
    if (auto fault = schemaFault(value, "trial", trialSchemaVersion, where))
        return *fault;
    JsonFields fields(value, where);
    Trial trial;
    trial.id = fields.text("id");
    trial.name = fields.text("name");
    trial.room = fields.textOr("room", "");
    trial.monitors = readList<Monitor>(fields, "monitors", readMonitor);
    const Json& orientations = fields.member("orientations");
    if (!orientations.is_array())
        fields.complain("\"orientations\" must be a list");
    for (const auto& orientation : orientations)
        if (orientation.is_string())
            trial.orientations.push_back(orientation.get<std::string>());
        else
            fields.complain("\"orientations\" must be names");
    trial.stances = readList<Stance>(fields, "stances",
                                     [](JsonFields& item)
                                     {
                                         const auto stance = parseStance(item.text("name"));
                                         if (!stance)
                                             item.complain(stance.problem().what);
                                         return stance ? *stance : Stance{};
                                     });
    trial.positions = readList<Position>(fields, "positions", readPosition);
    std::map<std::string, int> standings; // a file without numbers lists the set-ups in their order
    trial.setUps = readList<SetUp>(fields, "setUps",
                                   [&](JsonFields& item)
                                   {
                                       SetUp setUp;
                                       setUp.id = static_cast<int>(item.count("id", 1000000));
                                       setUp.stance = item.text("stance");
                                       setUp.stoodUp = item.textOr("stoodUp", "");
                                       const int next = ++standings[setUp.stance];
                                       setUp.number = item.has("number")
                                                          ? static_cast<int>(item.whole("number", 1, 1000000))
                                                          : next;
                                       return setUp;
                                   });
    trial.takes = readList<TakeEntry>(fields, "takes", readTake);
    refuseNamesakes(fields, trial);
    checkReferences(fields, trial);
    if (fields.fault())
        return *fields.fault();
    return trial;
}

}
