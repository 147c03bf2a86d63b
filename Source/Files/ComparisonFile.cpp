#include "Files/ComparisonFile.h"

#include "Files/AnalysisFile.h"
#include "Files/NumberText.h"
#include "Files/Version.h"
#include "Trial/MirrorCheck.h"

#include <algorithm>
#include <cmath>

namespace plumbline
{

namespace
{

Json numberOrNull(double value)
{
    return std::isfinite(value) ? Json(value) : Json(nullptr);
}

const char* basisName(SpreadBasis basis)
{
    switch (basis)
    {
    case SpreadBasis::untouchedOwn:
        return "takes of these stances";
    case SpreadBasis::untouchedPooled:
        return "takes of all stances";
    case SpreadBasis::putBackOwn:
        return "set-ups of these stances";
    case SpreadBasis::putBackPooled:
        return "set-ups of all stances";
    case SpreadBasis::none:
        break;
    }
    return "none";
}

std::string nameOf(const Comparison& comparison, std::size_t stance)
{
    return comparison.stance(stance).name();
}

Json readingJson(const Reading& reading, const ReadingValue& value)
{
    return { { "value", numberOrNull(value.value) },
             { "plusMinus", value.known() ? numberOrNull(value.plusMinus) : Json(nullptr) },
             { "low", value.known() ? numberOrNull(value.low) : Json(nullptr) },
             { "high", value.known() ? numberOrNull(value.high) : Json(nullptr) },
             { "unit", reading.unit },
             { "bandHz", { reading.band.fromHz, reading.band.toHz } },
             { "definition", reading.definition },
             { "source", reading.source },
             { "spreadFrom", basisName(value.basis) },
             { "known", std::isfinite(value.value) },
             { "hasBetterSide", reading.hasBetterSide() } };
}

Json stancesJson(const Comparison& comparison)
{
    auto list = Json::array();
    const auto& stances = comparison.board->stances();
    for (std::size_t s = 0; s < stances.size(); ++s)
    {
        auto readings = Json::object();
        for (std::size_t r = 0; r < comparison.readings.size(); ++r)
            readings[comparison.readings[r].name] =
                readingJson(comparison.readings[r], comparison.values[s][r]);
        list.push_back({ { "name", nameOf(comparison, s) },
                         { "setUps", stances[s].setUps.size() },
                         { "takes", takesOf(stances[s]) },
                         { "trimDb", numberOrNull(stances[s].trimDb) },
                         { "readings", readings } });
    }
    return list;
}

Json pairsJson(const Comparison& comparison)
{
    auto list = Json::array();
    for (const auto& verdict : comparison.verdicts)
    {
        const auto& reading = comparison.readings[verdict.reading];
        if (!reading.hasBetterSide())
            continue;
        list.push_back({ { "a", nameOf(comparison, verdict.a) },
                         { "b", nameOf(comparison, verdict.b) },
                         { "reading", reading.name },
                         { "difference", numberOrNull(verdict.difference.difference) },
                         { "plusMinus", numberOrNull(verdict.difference.plusMinus) },
                         { "unit", reading.unit },
                         { "verdict", callName(verdict.call) },
                         { "firm", verdict.firm },
                         { "adjustedChance", numberOrNull(verdict.adjustedChance) },
                         { "underNoticeable", verdict.underNoticeable },
                         { "spreadFrom", basisName(verdict.difference.basis) } });
    }
    return list;
}

Json regionsJson(const Comparison& comparison, const std::vector<std::string>& causes)
{
    auto list = Json::array();
    for (std::size_t i = 0; i < comparison.regions.size(); ++i)
    {
        const auto& region = comparison.regions[i];
        list.push_back({ { "a", nameOf(comparison, region.a) },
                         { "b", nameOf(comparison, region.b) },
                         { "side", sideName(region.side) },
                         { "fromHz", region.fromHz },
                         { "toHz", region.toHz },
                         { "differenceDb", numberOrNull(region.differenceDb) },
                         { "plusMinusDb", numberOrNull(region.plusMinusDb) },
                         { "firm", region.firm },
                         { "words", regionWords(region, *comparison.board) },
                         { "why", i < causes.size() ? causes[i] : std::string() } });
    }
    return list;
}

Json orderJson(const Comparison& comparison)
{
    auto list = Json::array();
    for (const auto& place : comparison.order.places)
    {
        auto tied = Json::array();
        for (const auto stance : place.tiedWith)
            tied.push_back(nameOf(comparison, stance));
        list.push_back({ { "stance", nameOf(comparison, place.stance) },
                         { "tiedWith", tied },
                         { "pointsBehind", numberOrNull(place.pointsBehind) },
                         { "plusMinus", numberOrNull(place.plusMinus) },
                         { "firstShare", numberOrNull(place.firstShare) } });
    }
    return list;
}

/** A field of RFC 4180: in quotes, quotes doubled. */
std::string quoted(const std::string& text)
{
    std::string field = "\"";
    for (const char c : text)
        field += c == '"' ? std::string("\"\"") : std::string(1, c);
    return field + '"';
}

std::string field(double value)
{
    return std::isfinite(value) ? ',' + exactText(value) : ",";
}

const char* codeOf(PairFault::Kind kind)
{
    return kind == PairFault::Kind::polarity  ? "polarity"
           : kind == PairFault::Kind::swapped ? "sides-exchanged"
                                              : "not-mirrored";
}

bool smoothedAlike(const std::vector<StanceData>& stances)
{
    const int first = stances.front().takes.front().conditions.smoothingPerOctave;
    for (const auto& stance : stances)
        for (const auto& take : stance.takes)
            if (take.conditions.smoothingPerOctave != first)
                return false;
    return true;
}

}

const char* sideName(std::size_t side)
{
    return side == 0 ? "left" : "right";
}

std::size_t takesOf(const MatchedStance& stance)
{
    std::size_t count = 0;
    for (const auto& setUp : stance.setUps)
        count += setUp.seat.size() + setUp.elsewhere.size();
    return count;
}

Json toJson(const Comparison& comparison, const std::vector<Fault>& faults,
            const std::vector<std::string>& causes)
{
    const auto& match = comparison.board->matchBand();
    return { { "schema", schemaName("comparison", comparisonSchemaVersion) },
             { "method",
               { { "program", std::string("Plumbline ") + programVersion },
                 { "matchBandHz", { match.fromHz, match.toHz } },
                 { "falseCallsAtMost", comparison.settings.rules.alpha },
                 { "putBackMeasured", comparison.facts->putBackMeasured() } } },
             { "faults", toJson(faults) },
             { "stances", stancesJson(comparison) },
             { "pairs", pairsJson(comparison) },
             { "regions", regionsJson(comparison, causes) },
             { "order", orderJson(comparison) },
             { "words", comparison.words } };
}

std::string comparisonCsv(const Comparison& comparison)
{
    std::string text = "stance,setUps,takes,trimDb,reading,value,plusMinus,unit,known,hasBetterSide\n";
    const auto& stances = comparison.board->stances();
    for (std::size_t s = 0; s < stances.size(); ++s)
        for (std::size_t r = 0; r < comparison.readings.size(); ++r)
        {
            const auto& reading = comparison.readings[r];
            const auto& value = comparison.values[s][r];
            text += quoted(nameOf(comparison, s)) + ',' + std::to_string(stances[s].setUps.size()) + ',' +
                    std::to_string(takesOf(stances[s])) + field(stances[s].trimDb) + ',' +
                    quoted(reading.name) + field(value.value) +
                    field(value.known() ? value.plusMinus : unknownValue) + ',' + quoted(reading.unit) +
                    (std::isfinite(value.value) ? ",1" : ",0") + (reading.hasBetterSide() ? ",1\n" : ",0\n");
        }
    return text;
}

std::vector<Fault> faultsOf(const Comparison& comparison, const std::vector<Position>& positions)
{
    std::vector<Fault> faults;
    const auto say = [&](const char* code, Fault::Severity severity, const std::string& words) {
        faults.push_back({ code, severity, words });
    };
    const auto& compared = comparison.board->stances();
    for (const auto& stance : comparison.data)
    {
        const auto found =
            std::find_if(compared.begin(), compared.end(), [&](const auto& s) { return s.data == &stance; });
        if (found == compared.end())
            say("stance-left-out", Fault::Severity::doubt,
                stance.name() + " could not be compared: it has no take at the seat that knows the band over "
                                "which levels are matched.");
        else if (found->setUps.size() == 1 && found->setUps.front().seat.size() == 1)
            say("one-take", Fault::Severity::doubt,
                stance.name() +
                    " has one take at the seat: how far another would differ is not known of it.");
        for (const auto& fault : wiringFaults(stance, positions))
            say(codeOf(fault.kind), Fault::Severity::doubt, fault.words);
    }
    if (!comparison.data.empty() && !smoothedAlike(comparison.data))
        say("smoothing-differs", Fault::Severity::doubt,
            "Takes differ in smoothing: analyse them alike before trusting differences.");
    if (!comparison.facts->putBackMeasured())
        say("put-back-not-measured", Fault::Severity::note,
            "No stance was stood up twice: every verdict assumes the pair returns exactly, and is not firm.");
    return faults;
}

}
