// What could pass here for the wrong reason: a file that is read as the mask built in. So a mask is read whose every value
// is another, and every key is spoilt once, which an unread key would not notice.

#include "Files/MaskFile.h"

#include "Files/Json.h"
#include "Support/TemporaryFolder.h"

#include <catch2/catch.hpp>

using namespace plumbline;
using namespace plumbline::test;

namespace
{
Json soundJson()
{
    return { { "schema", "plumbline/mask/1" },
             { "name", "own" },
             { "source", "mine" },
             { "mean", { { "fromHz", 315 }, { "toHz", 2500 } } },
             { "points",
               Json::array({ { { "frequencyHz", 63 }, { "lowerDb", -4 }, { "upperDb", 5 } },
                             { { "frequencyHz", 8000 }, { "lowerDb", -2.5 }, { "upperDb", 1.5 } } }) } };
}

Result<ToleranceMask> read(const Json& value)
{
    const TemporaryFolder folder;
    std::ofstream(folder / "mask.json") << value.dump();
    return readMask(folder / "mask.json");
}
}

TEST_CASE("The mask that ships is the one built in, and says that it is from memory")
{
    const auto mask = readMask(std::filesystem::path(PLUMBLINE_PRESETS) / "masks" / "three-decibels.json");
    REQUIRE(mask);
    CHECK(*mask == plainMask());
    CHECK_THAT(mask->source, Catch::Contains("from memory") && Catch::Contains("your own copy"));
}

TEST_CASE("A mask of one's own is read whole")
{
    const auto mask = read(soundJson());
    REQUIRE(mask);
    CHECK(*mask == ToleranceMask{ "own", "mine", 315, 2500, { { 63, -4, 5 }, { 8000, -2.5, 1.5 } } });
}

TEST_CASE("A damaged mask is refused, with the point at fault")
{
    for (const char* key : { "schema", "name", "source", "mean", "points" })
    {
        auto without = soundJson();
        without.erase(key);
        INFO(key);
        CHECK_FALSE(read(without));
        auto spoilt = soundJson();
        spoilt[key] = 7;
        CHECK_FALSE(read(spoilt));
    }
    for (const char* key : { "frequencyHz", "lowerDb", "upperDb" })
    {
        auto spoilt = soundJson();
        spoilt["points"][1][key] = "much";
        const auto mask = read(spoilt);
        REQUIRE_FALSE(mask);
        CHECK_THAT(mask.problem().sentence(), Catch::Contains("point 2") && Catch::Contains(key));
    }
    auto descending = soundJson();
    descending["points"][1]["frequencyHz"] = 63;
    CHECK_THAT(read(descending).problem().what, Catch::Contains("point 2"));
    auto crossed = soundJson();
    crossed["points"][0]["lowerDb"] = 6;
    CHECK_THAT(read(crossed).problem().what, Catch::Contains("above"));
    auto turned = soundJson();
    turned["mean"]["toHz"] = 200;
    CHECK_FALSE(read(turned));
    auto later = soundJson();
    later["schema"] = "plumbline/mask/2";
    CHECK(read(later).problem().code == "future-schema");
    CHECK(readMask("no/such/mask.json").problem().code == "missing");
}
