#include "Files/AnalysisFile.h"

#include "Files/NumberText.h"
#include "Files/Version.h"

#include <cmath>

namespace plumbline
{

namespace
{

std::string smoothingWords(OctaveFraction smoothing)
{
    return smoothing.none() ? "none"
                            : "1/" + std::to_string(smoothing.perOctave) + " octave, power, rectangular";
}

Json windowJson(const WindowChoice& window)
{
    switch (window.kind)
    {
    case WindowChoice::Kind::full:
        return "full";
    case WindowChoice::Kind::fixed:
        return window.milliseconds;
    case WindowChoice::Kind::automatic:
        break;
    }
    return "auto";
}

Json methodJson(const TakeAnalysis& analysis)
{
    return { { "program", std::string("Plumbline ") + programVersion },
             { "version", analysisMethodVersion },
             { "smoothing", smoothingWords(analysis.settings.smoothing) },
             { "window", windowJson(analysis.settings.window) },
             { "response", "regularised division by what was played, or by the reference" },
             { "travelTime", "peak of the first arrival, between the samples" },
             { "unknownAboveDb", largestKnownDeviationDb } };
}

Json sideJson(const SideAnalysis& side)
{
    const auto& curve = side.response;
    const bool noiseThere = !curve.noiseDb.empty();
    const std::vector<bool> all(curve.frequencyHz.size(), true);
    const std::vector<bool> none(curve.frequencyHz.size(), false);
    auto noiseValues = [&](const std::vector<double>& values)
    { return noiseThere ? knownValues(values, all) : knownValues(curve.frequencyHz, none); };
    Json response{ { "frequencyHz", curve.frequencyHz },
                   { "levelDb", knownValues(curve.levelDb, curve.known) },
                   { "phaseDeg", knownValues(curve.phaseDeg, curve.known) },
                   { "noiseDb", noiseValues(curve.noiseDb) },
                   { "sdDb", noiseThere ? knownValues(curve.sdDb, curve.known) : noiseValues(curve.sdDb) },
                   { "known", curve.known } };
    return { { "travelTimeSeconds", side.travelTimeSeconds ? Json(*side.travelTimeSeconds) : Json() },
             { "polarity", side.polarity ? Json(*side.polarity) : Json() },
             { "windowMs", side.windowMs },
             { "response", std::move(response) } };
}

void appendSide(std::string& line, const FrequencyResponse& curve, std::size_t i)
{
    auto field = [&](bool there, double value)
    {
        line += ',';
        if (there && std::isfinite(value))
            line += exactText(value);
    };
    field(curve.known[i], curve.levelDb[i]);
    field(curve.known[i], curve.phaseDeg[i]);
    field(!curve.noiseDb.empty(), curve.noiseDb.empty() ? 0.0 : curve.noiseDb[i]);
    line += curve.known[i] ? ",1" : ",0";
}

}

Json toJson(const std::vector<Fault>& faults)
{
    Json list = Json::array();
    for (const auto& fault : faults)
        list.push_back({ { "code", fault.code },
                         { "severity", fault.severity == Fault::Severity::doubt ? "doubt" : "note" },
                         { "words", fault.words } });
    return list;
}

Json toJson(const std::optional<Calibration>& calibration)
{
    if (!calibration)
        return nullptr;
    Json points = Json::array();
    for (const auto& p : calibration->points())
        points.push_back(
            Json::array({ p.frequencyHz, p.levelDb, calibration->hasPhase() ? Json(p.phaseDeg) : Json() }));
    return { { "name", calibration->name() }, { "points", std::move(points) } };
}

Json toJson(const TakeAnalysis& analysis)
{
    const auto& microphone = analysis.settings.microphone;
    Json value{ { "schema", schemaName("analysis", analysisSchemaVersion) },
                { "sampleRateHz", analysis.sampleRateHz },
                { "temperatureC", microphone.temperatureC },
                { "calibration", toJson(microphone.calibration) },
                { "sensitivityDbSpl",
                  microphone.sensitivityDbSpl ? Json(*microphone.sensitivityDbSpl) : Json() },
                { "method", methodJson(analysis) },
                { "faults", toJson(analysis.faults) } };
    value["sides"]["left"] = sideJson(analysis.left);
    if (analysis.right)
        value["sides"]["right"] = sideJson(*analysis.right);
    return value;
}

std::string responseCsv(const TakeAnalysis& analysis)
{
    std::string text = "frequencyHz,leftLevelDb,leftPhaseDeg,leftNoiseDb,leftKnown";
    if (analysis.right)
        text += ",rightLevelDb,rightPhaseDeg,rightNoiseDb,rightKnown";
    text += '\n';
    for (std::size_t i = 0; i < analysis.left.response.frequencyHz.size(); ++i)
    {
        text += exactText(analysis.left.response.frequencyHz[i]);
        appendSide(text, analysis.left.response, i);
        if (analysis.right)
            appendSide(text, analysis.right->response, i);
        text += '\n';
    }
    return text;
}

namespace
{
bool isFlat(const Json& value)
{
    if (!value.is_array())
        return false;
    for (const auto& item : value)
        if (item.is_structured())
            return false;
    return true;
}

void write(std::string& text, const Json& value, std::size_t depth)
{
    if (!value.is_structured() || value.empty() || isFlat(value))
    {
        text += value.dump(-1, ' ', false, Json::error_handler_t::replace);
        return;
    }
    const bool object = value.is_object();
    text += object ? '{' : '[';
    bool first = true;
    for (auto item = value.begin(); item != value.end(); ++item)
    {
        text += first ? "\n" : ",\n";
        first = false;
        text.append(2 * depth + 2, ' ');
        if (object)
            text += Json(item.key()).dump(-1, ' ', false, Json::error_handler_t::replace) + ": ";
        write(text, *item, depth + 1);
    }
    text += '\n';
    text.append(2 * depth, ' ');
    text += object ? '}' : ']';
}
}

std::string toText(const Json& value)
{
    std::string text;
    write(text, value, 0);
    return text + '\n';
}

}
