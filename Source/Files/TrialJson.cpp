#include "Files/TrialFolder.h"
#include "Trial/TrialCheck.h"

#include <map>

namespace plumbline
{

namespace
{
/** Without the blanks at its ends, as a stance's name is read. */
std::string trimmed(const std::string& text)
{
    const auto first = text.find_first_not_of(" \t");
    return first == std::string::npos ? std::string()
                                      : text.substr(first, text.find_last_not_of(" \t") - first + 1);
}

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
    monitor.name = trimmed(fields.text("name"));
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

Json takeJson(const TakeEntry& t)
{
    return { { "id", t.id },
             { "setUp", t.setUp },
             { "position", t.position },
             { "keep", t.keep },
             { "reason", t.reason } };
}

template <class Value>
void putIf(Json& value, const char* key, const std::optional<Value>& content)
{
    if (content)
        value[key] = *content;
}

Json placementJson(const StancePlacement& placement)
{
    Json value = Json::object();
    putIf(value, "apartCm", placement.apartCm);
    putIf(value, "distanceCm", placement.distanceCm);
    putIf(value, "heightCm", placement.heightCm);
    putIf(value, "toeInDegrees", placement.toeInDegrees);
    return value;
}

Json choiceJson(const Choice& choice)
{
    Json value{ { "stance", choice.stance }, { "date", choice.date }, { "reason", choice.reason } };
    putIf(value, "referenceTake", choice.referenceTake);
    putIf(value, "trimDb", choice.trimDb);
    return value;
}

/** What a trial may have or not. */
void putOptional(Json& value, const Trial& trial)
{
    for (const auto& take : trial.discarded)
    {
        auto entry = takeJson(take.entry);
        entry["discardedBecause"] = take.reason;
        value["discarded"].push_back(std::move(entry));
    }
    putIf(value, "temperatureC", trial.temperatureC);
    if (!trial.microphone.empty())
        value["microphone"] = trial.microphone;
    if (trial.placement)
        value["placement"] = placementJson(*trial.placement);
    for (const auto& [stance, placement] : trial.placements)
        value["placements"][stance] = placementJson(placement);
    for (const auto& [reading, weight] : trial.weights)
        value["weights"][reading] = weight;
    if (trial.choice)
        value["choice"] = choiceJson(*trial.choice);
}

std::optional<double> optionalWithin(JsonFields& fields, const char* key, double least, double most)
{
    return fields.has(key) ? std::optional(fields.number(key, least, most)) : std::nullopt;
}

StancePlacement readPlacement(JsonFields& fields)
{
    StancePlacement placement;
    placement.apartCm = optionalNumber(fields, "apartCm", 1e5);
    placement.distanceCm = optionalNumber(fields, "distanceCm", 1e5);
    placement.heightCm = optionalNumber(fields, "heightCm", 1e5);
    placement.toeInDegrees = optionalWithin(fields, "toeInDegrees", -180.0, 180.0);
    return placement;
}

Choice readChoice(JsonFields& fields)
{
    Choice choice{ fields.text("stance"), fields.text("date"), fields.text("reason"), {}, {} };
    if (fields.has("referenceTake"))
        choice.referenceTake = fields.text("referenceTake");
    choice.trimDb = optionalWithin(fields, "trimDb", -60.0, 60.0);
    return choice;
}

/** Reads an object's member that is an object itself, and says of which its fault is. */
template <class Read>
auto readPart(JsonFields& fields, const Json& part, const std::string& name, Read read)
{
    JsonFields inner(part, fields.where() + ", " + name);
    auto value = read(inner);
    if (inner.fault())
        fields.complain(name + ": " + inner.fault()->what);
    return value;
}

/** The entries of a member that is an object of free keys; none if it is not there. */
const Json& entriesOf(JsonFields& fields, const char* key)
{
    static const Json none = Json::object();
    if (!fields.has(key))
        return none;
    const Json& value = fields.member(key);
    if (value.is_object())
        return value;
    fields.complain(std::string("\"") + key + "\" must be an object");
    return none;
}

void readOptional(JsonFields& fields, Trial& trial)
{
    if (fields.has("discarded"))
        trial.discarded = readList<DiscardedTake>(
            fields, "discarded",
            [](JsonFields& item) {
                return DiscardedTake{ readTake(item), item.textOr("discardedBecause", "") };
            });
    trial.temperatureC = optionalWithin(fields, "temperatureC", -40.0, 60.0);
    trial.microphone = fields.textOr("microphone", "");
    if (fields.has("placement"))
        trial.placement = readPart(fields, fields.member("placement"), "placement", readPlacement);
    for (const auto& item : entriesOf(fields, "placements").items())
        trial.placements[item.key()] =
            readPart(fields, item.value(), "placements, " + item.key(), readPlacement);
    const Json& weights = entriesOf(fields, "weights");
    JsonFields weight(weights, fields.where() + ", weights");
    for (const auto& item : weights.items())
        trial.weights[item.key()] = weight.number(item.key().c_str(), 0.0, 1000.0);
    if (weight.fault())
        fields.complain("weights: " + weight.fault()->what);
    if (fields.has("choice"))
        trial.choice = readPart(fields, fields.member("choice"), "choice", readChoice);
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
    for (const auto& take : trial.takes)
        value["takes"].push_back(takeJson(take));
    putOptional(value, trial);
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
            trial.orientations.push_back(trimmed(orientation.get<std::string>()));
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
    readOptional(fields, trial);
    if (!fields.fault())
        if (const auto fault = faultOf(trial))
            fields.complain(fault->where.empty() ? fault->what : fault->what + " (\"" + fault->where + "\")");
    if (fields.fault())
        return *fields.fault();
    return trial;
}

}
