// What could pass here for the wrong reason: a bad value refused as something else (missing, or of another
// kind). So each sentence is looked at for the key's name and for what is wrong with it, and every row
// stands beside a good one.

#include "Files/Json.h"

#include "Support/ChildProcess.h"
#include "Support/GermanLocale.h"
#include "Support/TemporaryFolder.h"

#include <catch2/catch.hpp>
#include <limits>
#include <locale>
#include <sys/stat.h>

using namespace plumbline;
using namespace plumbline::test;
using Catch::Matchers::Contains;

namespace
{

std::string complaint(const JsonFields& fields)
{
    return fields.fault() ? fields.fault()->sentence() : std::string();
}

/** The complaint about the one member "level" of an object. */
template <class Ask>
std::string complaintAbout(const char* json, Ask ask)
{
    const auto value = Json::parse(json);
    JsonFields fields(value, "a.json");
    ask(fields);
    return complaint(fields);
}

Result<Json> readText(const std::string& text)
{
    const TemporaryFolder folder;
    writeBytes(folder / "a.json", text);
    return readJsonFile(folder / "a.json", "trial", 2);
}

std::string codeOf(const std::string& text)
{
    const auto value = readText(text);
    return value ? "read" : value.problem().code;
}

}

TEST_CASE("A number is taken inside its range, both ends included")
{
    const auto value = Json::parse(R"({"a": -2, "b": 3, "c": 0.1, "d": 18446744073709551615})");
    JsonFields fields(value, "a.json");
    CHECK(fields.number("a", -2.0, 3.0) == -2.0);
    CHECK(fields.number("b", -2.0, 3.0) == 3.0);
    CHECK(fields.number("c", -2.0, 3.0) == 0.1);
    CHECK(fields.number("d", 0.0, 1e20) == 18446744073709551615.0);
    CHECK(fields.numberOr("a", 7.0, -2.0, 3.0) == -2.0);
    CHECK(fields.numberOr("none", 7.0, -2.0, 3.0) == 7.0);
    CHECK_FALSE(fields.fault());
}

TEST_CASE("A number that is missing, out of range or no number is named with its range")
{
    const auto ask = [](JsonFields& fields) { static_cast<void>(fields.number("level", -2.0, 3.0)); };
    for (const char* json :
         { R"({"level": -2.0000001})", R"({"level": 3.5})", R"({"level": "3"})", R"({"level": true})",
           R"({"level": [1]})", R"({"level": {}})", R"({"level": 1e308})" })
    {
        INFO(json);
        CHECK(complaintAbout(json, ask) ==
              "a.json: \"level\" must be a number from -2 to 3. Give the file as it was written.");
    }
    CHECK(complaintAbout("{}", ask) == "a.json: \"level\" is missing. Give the file as it was written.");
    CHECK(complaintAbout(R"({"level": null})", ask) ==
          "a.json: \"level\" is missing. Give the file as it was written.");
    CHECK(complaintAbout(R"({"Level": 1})", ask) ==
          "a.json: \"level\" is missing. Give the file as it was written.");
    CHECK(complaintAbout(R"({"level": 1})", ask) == "");
}

TEST_CASE("NaN and infinity made in memory are out of every range")
{
    for (const double bad :
         { std::numeric_limits<double>::quiet_NaN(), std::numeric_limits<double>::infinity(),
           -std::numeric_limits<double>::infinity() })
    {
        const Json value{ { "level", bad } };
        JsonFields fields(value, "a.json");
        CHECK(fields.number("level", -2.0, 3.0) == -2.0);
        CHECK_THAT(complaint(fields), Contains("\"level\""));
        JsonFields count(value, "a.json");
        CHECK(count.count("level", 10) == 0);
        CHECK_THAT(complaint(count), Contains("\"level\""));
    }
}

TEST_CASE("A count is a whole number from nought")
{
    const auto ask = [](JsonFields& fields) { static_cast<void>(fields.count("level", 10)); };
    CHECK(complaintAbout(R"({"level": 0})", ask) == "");
    CHECK(complaintAbout(R"({"level": 10})", ask) == "");
    CHECK(complaintAbout(R"({"level": 10.0})", ask) == "");
    CHECK_THAT(complaintAbout(R"({"level": 2.5})", ask), Contains("\"level\" must be a whole number"));
    CHECK_THAT(complaintAbout(R"({"level": -1})", ask), Contains("\"level\" must be a number from 0 to 10"));
    CHECK_THAT(complaintAbout(R"({"level": 11})", ask), Contains("\"level\" must be a number from 0 to 10"));
}

TEST_CASE("Flags and text are of their own kind, or left out where they may be")
{
    const auto flag = [](JsonFields& fields) { static_cast<void>(fields.flagOr("level", true)); };
    CHECK(complaintAbout("{}", flag) == "");
    CHECK(complaintAbout(R"({"level": false})", flag) == "");
    CHECK_THAT(complaintAbout(R"({"level": 0})", flag), Contains("\"level\" must be true or false"));
    CHECK_THAT(complaintAbout(R"({"level": "true"})", flag), Contains("\"level\" must be true or false"));
    const auto text = [](JsonFields& fields) { static_cast<void>(fields.text("level")); };
    const auto textOr = [](JsonFields& fields) { static_cast<void>(fields.textOr("level", "seat")); };
    CHECK(complaintAbout(R"({"level": ""})", text) == "");
    CHECK_THAT(complaintAbout(R"({"level": 5})", text), Contains("\"level\" must be text"));
    CHECK_THAT(complaintAbout("{}", text), Contains("\"level\" is missing"));
    CHECK(complaintAbout("{}", textOr) == "");
    CHECK_THAT(complaintAbout(R"({"level": ["seat"]})", textOr), Contains("\"level\" must be text"));

    const auto value = Json::parse(R"({"no": false, "name": "Osier 8"})");
    JsonFields fields(value, "a.json");
    CHECK_FALSE(fields.flagOr("no", true));
    CHECK(fields.flagOr("none", true));
    CHECK(fields.text("name") == "Osier 8");
    CHECK(fields.textOr("none", "seat") == "seat");
}

TEST_CASE("The first fault is the one that is told, and a value that is no object is one")
{
    const auto value = Json::parse(R"({"a": 1, "b": "x"})");
    JsonFields fields(value, "a.json");
    fields.number("a", 5.0, 6.0);
    fields.number("b", 5.0, 6.0);
    CHECK_THAT(complaint(fields), Contains("\"a\""));
    for (const char* json : { "[]", "5", "null", "\"x\"", "true" })
        CHECK_THAT(complaintAbout(json, [](JsonFields& f)
                                  { static_cast<void>(f.numberOr("level", 0.0, 0.0, 1.0)); }),
                   Contains("An object is wanted"));
}

namespace
{
/** Numbers as C++ streams write them in Germany. */
struct GermanNumbers : std::numpunct<char>
{
    char do_decimal_point() const override { return ','; }

    char do_thousands_sep() const override { return '.'; }

    std::string do_grouping() const override { return "\3"; }
};
}

TEST_CASE("The sentences have a decimal point in every locale")
{
    const auto ask = [](JsonFields& fields) { static_cast<void>(fields.number("level", 0.5, 20000.5)); };
    const auto rightWords = Contains("from 0.5 to 20000.5");
    CHECK_THAT(complaintAbout(R"({"level": 0})", ask), rightWords);
    const auto former =
        std::locale::global(std::locale(std::locale::classic(), new GermanNumbers)); // as a host may do
    const auto words = complaintAbout(R"({"level": 0})", ask);
    std::locale::global(former);
    CHECK_THAT(words, rightWords);
    const GermanLocale german;
    if (!german.there())
        WARN(whyNoGermanLocale);
    else
        CHECK_THAT(complaintAbout(R"({"level": 0})", ask), rightWords);
}

TEST_CASE("A schema must be ours, of the kind wanted, and not newer")
{
    CHECK(schemaName("trial", 2) == "plumbline/trial/2");
    CHECK(codeOf(R"({"schema": "plumbline/trial/2"})") == "read");
    CHECK(codeOf(R"({"schema": "plumbline/trial/3"})") == "future-schema");
    CHECK(codeOf(R"({"schema": "plumbline/trial/12345678"})") == "future-schema");
    for (const char* other :
         { "plumbline/trial/1", "plumbline/trial/", "plumbline/trial/x", "plumbline/trial/2 ",
           "plumbline/trial/-3", "plumbline/trial/99999999999999999999", "plumbline/capture/3", "", "2" })
    {
        INFO(other);
        CHECK(codeOf(Json{ { "schema", other } }.dump()) == "other-schema");
    }
    for (const char* json :
         { "{}", R"({"schema": 2})", R"({"schema": null})", "[]", "\"plumbline/trial/2\"", "null", "5" })
    {
        INFO(json);
        CHECK(codeOf(json) == "no-schema");
    }
    const auto future = readText(R"({"schema": "plumbline/trial/3"})").problem().sentence();
    CHECK_THAT(future, Contains("plumbline/trial/3") && Contains("newer"));
}

TEST_CASE("What is not sound JSON is refused, the words for NaN and infinity and numbers too large as well")
{
    for (const char* value : { "NaN", "nan", "Infinity", "-Infinity", "inf", "1e999", "-1e999", "1.", ".5",
                               "+1", "0x10", "01", "'x'", "1,", "\"\xff\"", "\"\n\"" })
    {
        INFO(value);
        CHECK(codeOf(R"({"schema": "plumbline/trial/2", "level": )" + std::string(value) + "}") ==
              "not-json");
    }
    CHECK(codeOf("") == "not-json");
    CHECK(codeOf(R"({"schema": "plumbline/trial/2")") == "not-json");
    CHECK(codeOf(R"({"schema": "plumbline/trial/2"} x)") == "not-json");
    CHECK(codeOf(std::string("{\"schema\": \"plumbline/trial/2\"\0}", 31)) == "not-json");
    CHECK(codeOf(R"({"schema": "plumbline/trial/2", "level": 1.5e3})") == "read");
}

TEST_CASE("Text nested half a million deep does not overflow the stack")
{
    constexpr std::size_t depth = 500000;
    const auto nested = std::string(depth, '[') + std::string(depth, ']');
    const auto objects = [&]
    {
        std::string text;
        for (std::size_t i = 0; i < depth / 5; ++i)
            text += "{\"a\":";
        return text + "1" + std::string(depth / 5, '}');
    }();
    const auto end = runInChild(
        [&]
        {
            const bool read = readText(R"({"schema": "plumbline/trial/2", "a": )" + nested + "}").ok() &&
                              readText(R"({"schema": "plumbline/trial/2", "a": )" + objects + "}").ok();
            const bool refused = !readText(nested) && !readText(std::string(depth, '['));
            return read && refused ? 0 : 1;
        });
    CHECK(end.words() == "exit 0");
}

TEST_CASE("A file is refused by its size before it is read, and a folder or a missing one by name")
{
    const TemporaryFolder folder;
    writeBytes(folder / "a.json", "{}");
    std::filesystem::resize_file(folder / "a.json", 65u << 20);
    const auto huge = readJsonFile(folder / "a.json", "trial", 2);
    REQUIRE_FALSE(huge);
    CHECK_THAT(huge.problem().sentence(), Contains("a.json") && Contains("too large"));
    CHECK_THAT(readTextFile(folder.path(), 100).problem().sentence(), Contains("folder"));
    CHECK_THAT(readTextFile(folder / "none", 100).problem().sentence(), Contains("no such file"));
    writeBytes(folder / "ten", "0123456789");
    CHECK(readTextFile(folder / "ten", 10).value() == "0123456789");
    CHECK_FALSE(readTextFile(folder / "ten", 9));
    writeBytes(folder / "empty", "");
    CHECK(readTextFile(folder / "empty", 10).value().empty());
}

TEST_CASE("A pipe in place of a file is refused in words, and nobody waits for it")
{
    const TemporaryFolder folder;
    const auto pipe = folder / "pipe";
    REQUIRE(mkfifo(pipe.c_str(), 0600) == 0);
    CHECK_THAT(readTextFile(pipe, 10).problem().sentence(), Contains("plain file"));
}

TEST_CASE("Values that are not known, or not finite, become null")
{
    const auto nan = std::numeric_limits<double>::quiet_NaN(),
               infinity = std::numeric_limits<double>::infinity();
    const auto list =
        knownValues({ 1.5, 2.5, nan, -infinity, nan, 0.0 }, { true, false, true, true, false, true });
    CHECK(list.dump() == "[1.5,null,null,null,null,0.0]");
    CHECK(knownValues({}, {}).dump() == "[]");
}
