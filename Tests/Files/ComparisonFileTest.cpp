// What could pass here for the wrong reason: a file of the right keys about no comparison. Stances are made by hand so
// that what must be written is known beforehand: one is louder by 3 dB and has a hump, one is the other's twin, one has
// a single take, one lacks the band that levels are matched over. Nothing that is not known may become a number.

#include "Files/ComparisonFile.h"

#include "Dsp/Random.h"
#include "Files/AnalysisFile.h"
#include "Files/ComparisonPicture.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <sstream>

using namespace plumbline;
using Catch::Contains;

namespace
{

struct Plan
{
    std::string monitor;
    double levelDb = 0.0, humpDb = 0.0;
    int setUps = 2, takes = 2;
    int polarityOfRight = 1;
};

/** Level of a take: a gain, a hump of an octave about 1.5 kHz, and its own deviation. */
SideData sideOf(const Plan& plan, double deviationDb, Random& random)
{
    SideData side{ unknownCurve(), unknownCurve(), unknownCurve(), 0.01, 1 };
    for (std::size_t i = 0; i < side.levelDb.size(); ++i)
    {
        const double hz = curveGrid::frequencyHz(i);
        if (hz < 20.0 || hz > 20000.0)
            continue;
        const double octaves = std::log2(hz / 1500.0);
        side.levelDb[i] = plan.levelDb + plan.humpDb * std::exp(-4.0 * octaves * octaves) +
                          deviationDb * std::sin(3.0 * octaves) + 0.02 * random.normal();
    }
    return side;
}

StanceData stanceOf(const Plan& plan, std::uint64_t seed)
{
    Random random(seed);
    StanceData stance;
    stance.stance = { plan.monitor, "upright" };
    stance.monitor.name = plan.monitor;
    for (int setUp = 1; setUp <= plan.setUps; ++setUp)
    {
        const double deviationDb = 0.1 * random.normal();
        for (int take = 0; take < plan.takes; ++take)
        {
            auto& made = stance.takes.emplace_back();
            made.id = std::to_string(seed) + std::to_string(10 * setUp + take);
            made.setUp = setUp;
            made.sides = { sideOf(plan, deviationDb, random), sideOf(plan, -deviationDb, random) };
            made.sides[1].polarity = plan.polarityOfRight;
        }
    }
    return stance;
}

std::shared_ptr<const Comparison> compared(const std::vector<Plan>& plans)
{
    std::vector<StanceData> stances;
    for (const auto& plan : plans)
        stances.push_back(stanceOf(plan, stances.size() + 1));
    return compare(std::move(stances), {});
}

const Plan even{ "Heron 6" }, humped{ "Tarn 5", 3.0, 6.0 };

std::vector<std::string> codesOf(const std::vector<Fault>& faults, Fault::Severity severity)
{
    std::vector<std::string> codes;
    for (const auto& fault : faults)
        if (fault.severity == severity)
            codes.push_back(fault.code);
    return codes;
}

std::vector<std::string> doubtsOf(const std::vector<Plan>& plans)
{
    return codesOf(faultsOf(*compared(plans), {}), Fault::Severity::doubt);
}

using Codes = std::vector<std::string>;

}

TEST_CASE("A comparison's schema stands first, and its keys are those that are promised")
{
    const auto text = toText(toJson(*compared({ even, humped }), {}));
    CHECK(text.rfind("{\n  \"schema\": \"plumbline/comparison/1\",\n", 0) == 0);
    const auto json = Json::parse(text);
    for (const char* key : { "faults", "stances", "pairs", "regions", "order", "words" })
        CHECK(json.contains(key));
    const auto& reading = json["stances"][0]["readings"]["evenness"];
    for (const char* key : { "value", "plusMinus", "unit", "definition", "source", "known", "hasBetterSide" })
        CHECK(reading.contains(key));
}

TEST_CASE("The louder stance is trimmed, and set-ups and takes are counted")
{
    const auto json = toJson(*compared({ even, { "Tarn 5", 3.0, 0.0, 3, 2 } }), {});
    CHECK(json["stances"][0]["name"] == "Heron 6, upright");
    CHECK(json["stances"][0]["trimDb"] == 0.0);
    CHECK(json["stances"][1]["trimDb"].get<double>() == Approx(-3.0).margin(0.1));
    CHECK(json["stances"][1]["setUps"] == 3);
    CHECK(json["stances"][1]["takes"] == 6);
}

TEST_CASE("A known hump is told as a region on both sides and decides evenness and the order")
{
    const auto json = toJson(*compared({ even, humped }), {});
    Codes sides;
    for (const auto& region : json["regions"])
        if (region["fromHz"] < 1500.0 && region["toHz"] > 1500.0)
        {
            CHECK(region["differenceDb"] < -2.0); // the even one less the humped one
            CHECK(region["a"] == "Heron 6, upright");
            sides.push_back(region["side"]);
        }
    CHECK(sides == Codes{ "left", "right" });
    for (const auto& pair : json["pairs"])
        if (pair["reading"] == "evenness")
            CHECK(pair["verdict"] == "better");
    CHECK(json["order"][0]["stance"] == "Heron 6, upright");
    CHECK(json["order"][0]["tiedWith"].empty());
}

TEST_CASE("Readings without a better side stand among the readings and in no pair")
{
    const auto json = toJson(*compared({ even, humped }), {});
    CHECK(json["stances"][0]["readings"]["tilt"]["hasBetterSide"] == false);
    REQUIRE(json["pairs"].size() > 3);
    for (const auto& pair : json["pairs"])
    {
        const auto name = pair["reading"].get<std::string>();
        INFO(name);
        CHECK(json["stances"][0]["readings"][name]["hasBetterSide"] == true);
    }
}

TEST_CASE("What is not known is null, with one take each and no corner in the band")
{
    const auto json = toJson(*compared({ { "Heron 6", 0.0, 0.0, 1, 1 }, { "Tarn 5", 0.0, 3.0, 1, 1 } }), {});
    for (const auto& stance : json["stances"])
        for (const auto& [name, reading] : stance["readings"].items())
        {
            INFO(name);
            CHECK(reading["plusMinus"].is_null());
            CHECK(reading["value"].is_null() != reading["known"].get<bool>());
        }
    CHECK(json["stances"][0]["readings"]["reach, -3 dB"]["known"] == false); // flat down to the lowest note
    CHECK(json["stances"][0]["readings"]["evenness"]["known"] == true);
    for (const auto& pair : json["pairs"])
    {
        CHECK(pair["plusMinus"].is_null());
        CHECK(pair["verdict"] == "too close to call");
        CHECK(pair["firm"] == false);
    }
    const auto text = toText(json);
    CHECK_THAT(text, !Contains("nan") && !Contains("NaN"));
}

TEST_CASE("The table has a row a stance and reading, names in quotes, empty fields where nothing is known")
{
    const auto comparison = compared({ { "The \"old\" pair" }, humped });
    std::istringstream stream(comparisonCsv(*comparison));
    std::vector<std::string> lines;
    for (std::string line; std::getline(stream, line);)
        lines.push_back(line);
    REQUIRE(lines.size() == 1 + 2 * comparison->readings.size());
    CHECK(lines[0] == "stance,setUps,takes,trimDb,reading,value,plusMinus,unit,known,hasBetterSide");
    CHECK_THAT(lines[1], Catch::StartsWith("\"The \"\"old\"\" pair, upright\",2,4,0,\"evenness\","));
    const auto reach =
        std::find_if(lines.begin(), lines.end(),
                     [](const auto& line) { return line.find("\"reach, -3 dB\"") != std::string::npos; });
    REQUIRE(reach != lines.end());
    CHECK_THAT(*reach, Contains("\"reach, -3 dB\",,,\"Hz\",0,1"));
}

TEST_CASE("Nothing is doubtful about stances measured twice; what would be is named")
{
    CHECK(doubtsOf({ even, humped }).empty());
    CHECK(doubtsOf({ { "Heron 6", 0.0, 0.0, 1, 1 }, humped }) == Codes{ "one-take" });
    CHECK(doubtsOf({ even, { "Tarn 5", 0.0, 0.0, 2, 2, -1 } }) == Codes{ "polarity" });
}

TEST_CASE("That no stance was stood up twice is a note, and no doubt")
{
    const auto once = compared({ { "Heron 6", 0.0, 0.0, 1, 3 }, { "Tarn 5", 0.0, 3.0, 1, 3 } });
    const auto faults = faultsOf(*once, {});
    CHECK(codesOf(faults, Fault::Severity::doubt).empty());
    CHECK(codesOf(faults, Fault::Severity::note) == Codes{ "put-back-not-measured" });
    CHECK_THAT(once->words.front(), Contains("assumes the pair returns exactly"));
}

TEST_CASE("A stance that cannot be compared, and takes smoothed unlike one another, make it doubtful")
{
    auto lacking = stanceOf(even, 7);
    lacking.stance.monitor = "Osier 8";
    for (auto& take : lacking.takes)
        for (auto& side : take.sides)
            side.levelDb[*curveGrid::indexOf(1000.0)] = unknownValue;
    auto finer = stanceOf(humped, 8);
    finer.takes.front().conditions.smoothingPerOctave = 24;
    const auto comparison = compare({ stanceOf(even, 9), std::move(finer), std::move(lacking) }, {});
    const auto faults = faultsOf(*comparison, {});
    CHECK(codesOf(faults, Fault::Severity::doubt) == Codes{ "stance-left-out", "smoothing-differs" });
    CHECK_THAT(faults.front().words, Contains("Osier 8, upright"));
    CHECK(toJson(*comparison, faults)["stances"].size() == 2);
    CHECK(toJson(*comparison, faults)["faults"][0]["code"] == "stance-left-out");
}

TEST_CASE("Pictures show all stances at one level, and what the leader has less the next")
{
    const auto comparison = compared({ even, humped });
    const auto files = comparisonPictures(*comparison);
    REQUIRE(files.size() == 3);
    CHECK_THAT(files.at("levels.svg"), Contains("Tarn 5, upright"));
    CHECK_THAT(files.at("difference-left.svg"), Contains("Heron 6, upright less Tarn 5, upright"));
    for (const auto& [name, svg] : files)
    {
        INFO(name);
        CHECK_THAT(svg, Catch::StartsWith("<svg") && !Contains("nan"));
    }
    const auto& stances = comparison->board->stances();
    const auto at =
        *curveGrid::indexOf(250.0); // far from the hump: apart only by what the hump adds to the band
    const auto a = matchedLevel(stances[0])[at], b = matchedLevel(stances[1])[at];
    CHECK(a == Approx(0.0).margin(0.3));
    CHECK(b < a - 1.0);
}
