// What could pass here for the wrong reason: a check that sees only known values, or only finite ones. The
// analysis written here is made by hand with every kind of gap, and what must come out is counted value by
// value. Numbers are read back by the C library (strtod) and not by the code that wrote them.

#include "Files/AnalysisFile.h"

#include "Support/Captures.h"
#include "Support/GermanLocale.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cstdlib>
#include <limits>
#include <sstream>

using namespace plumbline;
using namespace plumbline::test;
using Catch::Matchers::Contains;

namespace
{

constexpr double nan = std::numeric_limits<double>::quiet_NaN();
constexpr double infinity = std::numeric_limits<double>::infinity();

/** A side with gaps: unknown values that are numbers, NaN and infinite; noise that is nought in one place. */
SideAnalysis sideWithGaps(double shift)
{
    SideAnalysis side;
    side.travelTimeSeconds = 0.0123456789012345 + shift;
    side.polarity = -1;
    side.windowMs = 245.6;
    side.response.frequencyHz = { 20.000000000000004, 1000.0 / 3.0, 1000.0, 2000.1, 20000.0 };
    side.response.levelDb = { -40.123456789012345 + shift, 12.0, 0.1 + 0.2 + shift, nan, -infinity };
    side.response.phaseDeg = { 1e-300, -3.0, -1234.5678901234567, nan, 5.0 };
    side.response.noiseDb = { -80.5, -81.25 + shift, -infinity, -90.0, 3.0 };
    side.response.sdDb = { 0.01, 2.0, 0.0, nan, infinity };
    side.response.known = { true, false, true, false, false };
    return side;
}

TakeAnalysis analysisWithGaps()
{
    TakeAnalysis analysis;
    analysis.sampleRateHz = 44100.0;
    analysis.settings.smoothing = OctaveFraction{ 6 };
    analysis.settings.window = { WindowChoice::Kind::fixed, 12.5 };
    analysis.settings.microphone.temperatureC = 21.3;
    analysis.settings.microphone.sensitivityDbSpl = 120.7;
    analysis.settings.microphone.calibration =
        Calibration::fromPoints("Serial 17", { { 20.0, -1.1, 3.3 }, { 20000.0, 2.2, -4.4 } }, true).value();
    analysis.faults = { { "low-level", Fault::Severity::note, "Words of a note." },
                        { "clipped", Fault::Severity::doubt, "Words \"of\" a doubt." } };
    analysis.left = sideWithGaps(0.0);
    analysis.right = sideWithGaps(0.7);
    return analysis;
}

std::vector<std::string> fieldsOf(const std::string& line)
{
    std::vector<std::string> fields(1);
    for (const char c : line)
        if (c == ',')
            fields.emplace_back();
        else
            fields.back() += c;
    return fields;
}

std::vector<std::string> linesOf(const std::string& text)
{
    std::istringstream stream(text);
    std::vector<std::string> lines;
    for (std::string line; std::getline(stream, line);)
        lines.push_back(line);
    return lines;
}

/** Every word of the text that could be a number gone wrong. */
void checkNoWordForNoNumber(std::string text)
{
    std::transform(text.begin(), text.end(), text.begin(),
                   [](char c) { return static_cast<char>(std::tolower(c)); });
    CHECK_THAT(text, !Contains("nan"));
    CHECK_THAT(text, !Contains("inf"));
}

/** The texts of the numbers of a flat array in a JSON text, after a key, from a place on. */
std::vector<std::string> arrayAfter(const std::string& text, const std::string& key, std::size_t from)
{
    const auto at = text.find("\"" + key + "\": [", from);
    REQUIRE(at != std::string::npos);
    const auto open = text.find('[', at), close = text.find(']', open);
    return fieldsOf(text.substr(open + 1, close - open - 1));
}

void checkArray(const std::vector<std::string>& texts, const std::vector<double>& values,
                const std::vector<bool>& there)
{
    REQUIRE(texts.size() == values.size());
    for (std::size_t i = 0; i < texts.size(); ++i)
    {
        INFO("value " << i);
        if (there[i])
            CHECK(std::strtod(texts[i].c_str(), nullptr) == values[i]);
        else
            CHECK(texts[i] == "null");
    }
}

}

TEST_CASE("The schema stands first, and is that of an analysis")
{
    const auto text = toText(toJson(analysisWithGaps()));
    CHECK(text.rfind("{\n  \"schema\": \"plumbline/analysis/1\",\n", 0) == 0);
    CHECK(text.back() == '\n');
    CHECK_FALSE(Json::parse(text, nullptr, false).is_discarded());
}

TEST_CASE("Every array runs in step, with null exactly where a value is not known, and numbers that read "
          "back exactly")
{
    const auto analysis = analysisWithGaps();
    const auto text = toText(toJson(analysis));
    const std::vector<bool> all(5, true);
    for (const auto* side : { &analysis.left, &*analysis.right })
    {
        const auto from = text.find(side == &analysis.left ? "\"left\": {" : "\"right\": {");
        const auto& curve = side->response;
        checkArray(arrayAfter(text, "frequencyHz", from), curve.frequencyHz, all);
        checkArray(arrayAfter(text, "levelDb", from), curve.levelDb, curve.known);
        checkArray(arrayAfter(text, "phaseDeg", from), curve.phaseDeg, curve.known);
        checkArray(arrayAfter(text, "noiseDb", from), curve.noiseDb, { true, true, false, true, true });
        checkArray(arrayAfter(text, "sdDb", from), curve.sdDb, curve.known);
        CHECK(arrayAfter(text, "known", from) ==
              std::vector<std::string>{ "true", "false", "true", "false", "false" });
    }
    checkNoWordForNoNumber(text);
}

TEST_CASE("Without noise its arrays are as long as the others, and all null")
{
    auto analysis = analysisWithGaps();
    analysis.left.response.noiseDb.clear();
    analysis.left.response.sdDb.clear();
    const auto response = toJson(analysis)["sides"]["left"]["response"];
    CHECK(response["noiseDb"].dump() == "[null,null,null,null,null]");
    CHECK(response["sdDb"].dump() == "[null,null,null,null,null]");
    CHECK(response["known"].dump() == "[true,false,true,false,false]");
}

TEST_CASE("What was set and found is written under the names of its schema")
{
    const auto json = Json::parse(toText(toJson(analysisWithGaps())));
    CHECK(json["sampleRateHz"] == 44100.0);
    CHECK(json["temperatureC"] == 21.3);
    CHECK(json["sensitivityDbSpl"] == 120.7);
    CHECK(json["calibration"].dump() ==
          R"({"name":"Serial 17","points":[[20.0,-1.1,3.3],[20000.0,2.2,-4.4]]})");
    CHECK(json["method"]["version"].is_number());
    CHECK_THAT(json["method"]["program"].get<std::string>(), Contains("Plumbline"));
    CHECK_THAT(json["method"]["smoothing"].get<std::string>(), Contains("1/6 octave"));
    CHECK(json["method"]["window"] == 12.5);
    CHECK(json["faults"].dump() ==
          R"([{"code":"low-level","severity":"note","words":"Words of a note."},)"
          R"({"code":"clipped","severity":"doubt","words":"Words \"of\" a doubt."}])");
    CHECK(json["sides"]["left"]["travelTimeSeconds"] == 0.0123456789012345);
    CHECK(json["sides"]["left"]["polarity"] == -1);
}

TEST_CASE("What is absent is null, or not there at all")
{
    auto analysis = analysisWithGaps();
    analysis.right.reset();
    analysis.faults.clear();
    analysis.left.travelTimeSeconds.reset();
    analysis.left.polarity.reset();
    analysis.settings.microphone = {};
    analysis.settings.smoothing = OctaveFraction{ 0 };
    analysis.settings.window = { WindowChoice::Kind::full, 0.0 };
    auto json = toJson(analysis);
    CHECK(json["calibration"].is_null());
    CHECK(json["sensitivityDbSpl"].is_null());
    CHECK(json["faults"].dump() == "[]");
    CHECK_FALSE(json["sides"].contains("right"));
    CHECK(json["sides"]["left"]["travelTimeSeconds"].is_null());
    CHECK(json["sides"]["left"]["polarity"].is_null());
    CHECK(json["method"]["smoothing"] == "none");
    CHECK(json["method"]["window"] == "full");
    analysis.settings.window = {};
    CHECK(toJson(analysis)["method"]["window"] == "auto");
    const auto noPhase =
        Calibration::fromPoints("x", { { 20.0, -1.0, 0.0 }, { 30.0, 2.0, 0.0 } }, false).value();
    CHECK(toJson(std::optional(noPhase))["points"].dump() == "[[20.0,-1.0,null],[30.0,2.0,null]]");
}

TEST_CASE("The CSV has a row a frequency, a column a value, and an empty field where it is not known")
{
    const auto analysis = analysisWithGaps();
    const auto text = responseCsv(analysis);
    const auto lines = linesOf(text);
    REQUIRE(lines.size() == 6);
    CHECK(lines[0] == "frequencyHz,leftLevelDb,leftPhaseDeg,leftNoiseDb,leftKnown,"
                      "rightLevelDb,rightPhaseDeg,rightNoiseDb,rightKnown");
    const auto number = [](const std::string& field) { return std::strtod(field.c_str(), nullptr); };
    for (std::size_t i = 0; i < 5; ++i)
    {
        const auto fields = fieldsOf(lines[i + 1]);
        INFO(lines[i + 1]);
        REQUIRE(fields.size() == 9);
        CHECK(number(fields[0]) == analysis.left.response.frequencyHz[i]);
        for (const std::size_t first : { 1u, 5u })
        {
            const auto& curve = first == 1 ? analysis.left.response : analysis.right->response;
            CHECK(fields[first].empty() != curve.known[i]);
            CHECK(fields[first + 1].empty() != curve.known[i]);
            CHECK(fields[first + 3] == (curve.known[i] ? "1" : "0"));
            if (curve.known[i])
            {
                CHECK(number(fields[first]) == curve.levelDb[i]);
                CHECK(number(fields[first + 1]) == curve.phaseDeg[i]);
            }
            if (i != 2)
                CHECK(number(fields[first + 2]) == curve.noiseDb[i]);
        }
    }
}

TEST_CASE("The CSV has an empty field where there was no noise at all, never a word")
{
    auto analysis = analysisWithGaps();
    checkNoWordForNoNumber(responseCsv(analysis));
    CHECK(fieldsOf(linesOf(responseCsv(analysis))[3])[3] == "");
    analysis.right.reset();
    analysis.left.response.noiseDb.clear();
    const auto lines = linesOf(responseCsv(analysis));
    CHECK(lines[0] == "frequencyHz,leftLevelDb,leftPhaseDeg,leftNoiseDb,leftKnown");
    CHECK(fieldsOf(lines[1]).size() == 5);
    CHECK(fieldsOf(lines[1])[3] == "");
}

TEST_CASE("A measured take is written without gaps in step, and reads back as it was")
{
    const auto capture = captureThrough(shortStimulus(), { { 200, 0.5 } }, { { 210, -0.25 } });
    AnalysisSettings settings;
    settings.window.kind = WindowChoice::Kind::full;
    const auto analysis = analyseTake(capture, settings);
    REQUIRE(analysis);
    const auto text = toText(toJson(*analysis));
    const auto json = Json::parse(text);
    const auto count = analysis->left.response.frequencyHz.size();
    REQUIRE(count > 400);
    for (const char* side : { "left", "right" })
        for (const char* key : { "frequencyHz", "levelDb", "phaseDeg", "noiseDb", "sdDb", "known" })
            CHECK(json["sides"][side]["response"][key].size() == count);
    for (std::size_t i = 0; i < count; ++i)
        if (analysis->left.response.known[i])
            CHECK(json["sides"]["left"]["response"]["levelDb"][i] == analysis->left.response.levelDb[i]);
    checkNoWordForNoNumber(text);
    checkNoWordForNoNumber(responseCsv(*analysis));
    CHECK(linesOf(responseCsv(*analysis)).size() == count + 1);
}

TEST_CASE("A locale with a decimal comma changes nothing that is written")
{
    const auto json = toText(toJson(analysisWithGaps())), csv = responseCsv(analysisWithGaps());
    const GermanLocale german;
    if (!german.there())
    {
        WARN(whyNoGermanLocale);
        return;
    }
    CHECK(toText(toJson(analysisWithGaps())) == json);
    CHECK(responseCsv(analysisWithGaps()) == csv);
    CHECK(Json::parse(json)["temperatureC"] == 21.3);
}

TEST_CASE("Text that is not UTF-8, and names with quotes, still make sound JSON")
{
    auto analysis = analysisWithGaps();
    analysis.faults[0].words = "A \"name\"\n with \xff\xfe in it\x01";
    const auto text = toText(toJson(analysis));
    const auto json = Json::parse(text, nullptr, false);
    REQUIRE_FALSE(json.is_discarded());
    CHECK_THAT(json["faults"][0]["words"].get<std::string>(), Contains("A \"name\"\n with"));
}

TEST_CASE("Arrays of numbers stand on one line, objects on lines of their own, two blanks deeper each")
{
    const Json value{ { "a", { 1, 2.5, nullptr } },
                      { "b", { { "c", Json::array() }, { "d", Json::object() } } },
                      { "e", { { { "f", true } } } } };
    CHECK(toText(value) == "{\n  \"a\": [1,2.5,null],\n  \"b\": {\n    \"c\": [],\n    \"d\": {}\n  },\n"
                           "  \"e\": [\n    {\n      \"f\": true\n    }\n  ]\n}\n");
}
