#include "Files/TakeSummary.h"

#include "Files/AnalysisFile.h"
#include "Files/AtomicFile.h"
#include "Files/SummaryReader.h"

#include <cmath>
#include <limits>

namespace plumbline
{

namespace fs = std::filesystem;

namespace
{

constexpr int stepsPerOctave = 48, lowestStep = -480, highestStep = 480;
constexpr float unknown = std::numeric_limits<float>::quiet_NaN();

/** The place on the grid of each frequency; nothing for one that lies off it by more than 0.01 %. */
std::vector<std::optional<int>> stepsOf(const Json& frequencies)
{
    std::vector<std::optional<int>> steps;
    for (const auto& item : frequencies)
    {
        const double hz = item.is_number() ? item.get<double>() : 0.0;
        const double step = hz > 0.0 ? std::round(stepsPerOctave * std::log2(hz / 1000.0)) : 1e9;
        const bool on = step >= lowestStep && step <= highestStep &&
                        std::abs(hz / (1000.0 * std::exp2(step / stepsPerOctave)) - 1.0) < 1e-4;
        steps.push_back(on ? std::optional(static_cast<int>(step)) : std::nullopt);
    }
    return steps;
}

struct Grid
{
    int first = highestStep, last = lowestStep;

    std::size_t count() const { return last < first ? 0 : static_cast<std::size_t>(last - first + 1); }

    void include(const std::vector<std::optional<int>>& steps)
    {
        for (const auto& step : steps)
            if (step)
            {
                first = std::min(first, *step);
                last = std::max(last, *step);
            }
    }
};

std::vector<float> valuesOf(JsonFields& fields, const char* key, const std::vector<std::optional<int>>& steps,
                            const Grid& grid)
{
    std::vector<float> values(grid.count(), unknown);
    if (!fields.has(key))
        return {};
    const Json& list = fields.member(key);
    bool any = false, sound = list.is_array() && list.size() == steps.size();
    for (std::size_t i = 0; sound && i < steps.size(); ++i)
    {
        sound = list[i].is_number() || list[i].is_null();
        if (!list[i].is_number() || !steps[i])
            continue;
        values[static_cast<std::size_t>(*steps[i] - grid.first)] = list[i].get<float>();
        any = true;
    }
    if (!sound)
        fields.complain(std::string("The array \"") + key + "\" does not hold one figure a frequency");
    return any || std::string(key) == "levelDb" ? values : std::vector<float>();
}

SideSummary sideOf(JsonFields& side, JsonFields& response, const Grid& grid)
{
    SideSummary summary;
    if (side.has("travelTimeSeconds"))
        summary.travelTimeSeconds = side.number("travelTimeSeconds", -1e3, 1e3);
    if (side.has("polarity"))
        summary.polarity = static_cast<int>(side.whole("polarity", -1.0, 1.0));
    const auto steps = stepsOf(response.member("frequencyHz"));
    summary.levelDb = valuesOf(response, "levelDb", steps, grid);
    summary.noiseDb = valuesOf(response, "noiseDb", steps, grid);
    summary.sdDb = valuesOf(response, "sdDb", steps, grid);
    const Json& known = response.member("known");
    if (!known.is_array() || known.size() != steps.size())
        response.complain("The array \"known\" does not hold true or false a frequency");
    else
        for (std::size_t i = 0; i < steps.size(); ++i)
            if (steps[i] && known[i] != true)
                summary.levelDb[static_cast<std::size_t>(*steps[i] - grid.first)] = unknown;
    return summary;
}

int perOctaveOf(const std::string& words)
{
    return words.rfind("1/", 0) == 0 ? std::atoi(words.c_str() + 2) : 0;
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

Result<TakeSummary> readConditions(JsonFields& fields, const std::string& where)
{
    TakeSummary summary;
    summary.sampleRateHz = fields.number("sampleRateHz", 1.0, 1e7);
    summary.temperatureC = fields.numberOr("temperatureC", 20.0, -100.0, 100.0);
    if (fields.has("calibration"))
        summary.calibration = JsonFields(fields.member("calibration"), where).textOr("name", "");
    summary.smoothing = JsonFields(fields.member("method"), where).textOr("smoothing", "");
    summary.smoothingPerOctave = perOctaveOf(summary.smoothing);
    summary.levelIsSpl = fields.has("sensitivityDbSpl");
    summary.faults = faultsOf(fields.member("faults", false));
    if (fields.fault())
        return *fields.fault();
    return summary;
}

}

double TakeSummary::frequencyHz(std::size_t index) const
{
    return 1000.0 * std::exp2((firstStep + static_cast<int>(index)) / static_cast<double>(stepsPerOctave));
}

Result<TakeSummary> summaryOf(const Json& analysis, const std::string& where)
{
    JsonFields fields(analysis, where);
    auto summary = readConditions(fields, where);
    if (!summary)
        return summary;
    JsonFields sides(fields.member("sides"), where + ", sides");
    Grid grid;
    for (const char* side : { "left", "right" })
        if (sides.has(side) && sides.member(side).is_object() && sides.member(side).contains("response") &&
            sides.member(side)["response"].is_object() &&
            sides.member(side)["response"].contains("frequencyHz"))
            grid.include(stepsOf(sides.member(side)["response"]["frequencyHz"]));
    summary->firstStep = grid.count() > 0 ? grid.first : 0;
    for (const char* name : { "left", "right" })
    {
        if (std::string(name) == "right" && !sides.has(name))
            continue;
        JsonFields side(sides.member(name), where + ", sides, " + name);
        JsonFields response(side.member("response"), where + ", sides, " + name + ", response");
        auto read = sideOf(side, response, grid);
        for (const auto* part : { &fields, &sides, &side, &response })
            if (part->fault())
                return *part->fault();
        if (std::string(name) == "left")
            summary->left = std::move(read);
        else
            summary->right = std::move(read);
    }
    return summary;
}

namespace
{

void append(std::string& text, const char* key, const std::vector<float>& values)
{
    text += std::string(",\n    \"") + key + "\": [";
    char number[32];
    for (std::size_t i = 0; i < values.size(); ++i)
    {
        const double rounded = std::round(static_cast<double>(values[i]) * 1e4) / 1e4;
        const auto words = std::isfinite(rounded) ? Json(rounded).dump() : std::string("null");
        std::snprintf(number, sizeof number, "%s%s", i > 0 ? "," : "", words.c_str());
        text += number;
    }
    text += ']';
}

std::string sideText(const SideSummary& side)
{
    auto text = "{\n    \"travelTimeSeconds\": " +
                (side.travelTimeSeconds ? Json(*side.travelTimeSeconds) : Json()).dump() +
                ",\n    \"polarity\": " + (side.polarity ? Json(*side.polarity) : Json()).dump();
    append(text, "levelDb", side.levelDb);
    append(text, "noiseDb", side.noiseDb);
    append(text, "sdDb", side.sdDb);
    return text + "\n  }";
}

struct SourceMark
{
    std::uintmax_t bytes = 0;
    std::int64_t time = 0;
};

std::optional<SourceMark> markOf(const fs::path& file)
{
    std::error_code error, timeError;
    const SourceMark mark{ fs::file_size(file, error),
                           static_cast<std::int64_t>(
                               fs::last_write_time(file, timeError).time_since_epoch().count()) };
    return error || timeError ? std::nullopt : std::optional(mark);
}

}

std::string summaryText(const TakeSummary& summary, const fs::path& source)
{
    const auto mark = markOf(source).value_or(SourceMark{});
    Json head{ { "schema", schemaName("summary", summarySchemaVersion) },
               { "analysisBytes", mark.bytes },
               { "analysisTime", mark.time },
               { "sampleRateHz", summary.sampleRateHz },
               { "temperatureC", summary.temperatureC },
               { "calibration", summary.calibration },
               { "smoothing", summary.smoothing },
               { "levelIsSpl", summary.levelIsSpl },
               { "faults", toJson(summary.faults) },
               { "firstStep", summary.firstStep } };
    auto text = toText(head);
    text.erase(text.rfind('\n', text.size() - 2)); // its closing bracket
    text += ",\n  \"left\": " + sideText(summary.left);
    if (summary.right)
        text += ",\n  \"right\": " + sideText(*summary.right);
    return text + "\n}\n";
}

Result<TakeSummary> readSummary(const fs::path& takeFolder, bool mayWrite)
{
    const auto source = takeFolder / "analysis.json", file = takeFolder / "summary.json";
    constexpr std::size_t mostBytes = 16u << 20;
    const auto mark = markOf(source);
    if (const auto text = mark ? readTextFile(file, mostBytes) : Result<std::string>(Problem{}))
        if (auto read = parseSummary(*text);
            read && read->analysisBytes == mark->bytes && read->analysisTime == mark->time)
        {
            read->summary.takeId = takeFolder.filename().string();
            read->summary.smoothingPerOctave = perOctaveOf(read->summary.smoothing);
            return std::move(read->summary);
        }
    const auto analysis = readJsonFile(source, "analysis", analysisSchemaVersion);
    if (!analysis)
        return analysis.problem();
    auto summary = summaryOf(*analysis, source.string());
    if (!summary)
        return summary;
    summary->takeId = takeFolder.filename().string();
    if (mayWrite) // made again next time if this fails
        static_cast<void>(writeFileWhole(file, summaryText(*summary, source)));
    return summary;
}

}
