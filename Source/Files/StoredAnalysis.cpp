#include "Files/StoredAnalysis.h"

#include "Files/AnalysisFile.h"
#include "Files/Json.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace plumbline
{

namespace
{

std::vector<double> numbersOf(JsonFields& fields, const char* key, std::size_t count)
{
    const auto& list = fields.member(key);
    std::vector<double> values;
    bool sound = list.is_array() && (count == 0 || list.size() == count);
    for (const auto& item : list)
    {
        sound = sound && (item.is_number() || item.is_null());
        values.push_back(item.is_number() ? item.get<double>() : std::numeric_limits<double>::quiet_NaN());
    }
    if (!sound)
        fields.complain(std::string("The array \"") + key + "\" does not hold one figure a frequency");
    return values;
}

std::vector<bool> flagsOf(JsonFields& fields, const char* key, std::size_t count)
{
    const auto& list = fields.member(key);
    std::vector<bool> values;
    bool sound = list.is_array() && list.size() == count;
    for (const auto& item : list)
    {
        sound = sound && item.is_boolean();
        values.push_back(item.is_boolean() && item.get<bool>());
    }
    if (!sound)
        fields.complain(std::string("The array \"") + key + "\" does not hold true or false a frequency");
    return values;
}

bool holdsAnything(const std::vector<double>& values)
{
    return std::any_of(values.begin(), values.end(), [](double v) { return v == v; });
}

void checkSense(JsonFields& fields, const FrequencyResponse& response)
{
    double before = 0.0;
    for (std::size_t i = 0; i < response.frequencyHz.size(); ++i)
    {
        if (!(response.frequencyHz[i] > before))
            return fields.complain("The array \"frequencyHz\" does not rise from above 0");
        before = response.frequencyHz[i];
        if (response.known[i] && !std::isfinite(response.levelDb[i]))
            return fields.complain("The array \"levelDb\" has no figure where it is said to be known");
    }
}

FrequencyResponse responseOf(JsonFields& fields)
{
    FrequencyResponse response;
    response.frequencyHz = numbersOf(fields, "frequencyHz", 0);
    const auto count = response.frequencyHz.size();
    response.levelDb = numbersOf(fields, "levelDb", count);
    response.phaseDeg = numbersOf(fields, "phaseDeg", count);
    response.noiseDb = numbersOf(fields, "noiseDb", count);
    if (fields.has("sdDb"))
        response.sdDb = numbersOf(fields, "sdDb", count);
    response.known = flagsOf(fields, "known", count);
    if (!fields.fault())
        checkSense(fields, response);
    if (!holdsAnything(response.noiseDb))
    {
        response.noiseDb.clear();
        response.sdDb.clear();
    }
    return response;
}

Result<FrequencyResponse> readSide(const Json& sides, const char* side, const std::string& where)
{
    JsonFields outer(sides, where + ", sides");
    JsonFields inner(outer.member(side), where + ", sides, " + side);
    JsonFields fields(inner.member("response"), where + ", sides, " + side + ", response");
    for (const auto* read : { &outer, &inner, &fields })
        if (read->fault())
            return *read->fault();
    auto response = responseOf(fields);
    if (fields.fault())
        return *fields.fault();
    return response;
}

std::vector<Fault> faultsOf(const Json& list)
{
    std::vector<Fault> faults;
    for (const auto& item : list)
    {
        JsonFields fields(item, "faults");
        const bool doubt = fields.textOr("severity", "note") == "doubt";
        faults.push_back({ fields.textOr("code", ""), doubt ? Fault::Severity::doubt : Fault::Severity::note,
                           fields.textOr("words", "") });
    }
    return faults;
}

}

Result<StoredAnalysis> readStoredAnalysis(const std::filesystem::path& file)
{
    const auto value = readJsonFile(file, "analysis", analysisSchemaVersion);
    if (!value)
        return value.problem();
    JsonFields fields(*value, file.string());
    const auto& method = fields.member("method");
    const auto& sides = fields.member("sides");
    if (fields.fault())
        return *fields.fault();
    StoredAnalysis stored;
    stored.smoothing = JsonFields(method, file.string()).textOr("smoothing", "");
    stored.levelIsSpl = value->contains("sensitivityDbSpl") && value->at("sensitivityDbSpl").is_number();
    stored.faults = faultsOf(fields.member("faults", false));
    auto left = readSide(sides, "left", file.string());
    if (!left)
        return left.problem();
    stored.left = std::move(*left);
    if (sides.is_object() && sides.contains("right"))
    {
        auto right = readSide(sides, "right", file.string());
        if (!right)
            return right.problem();
        stored.right = std::move(*right);
    }
    return stored;
}

}
