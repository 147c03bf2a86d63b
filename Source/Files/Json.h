#pragma once

#include "Core/Result.h"

#include <filesystem>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <vector>

namespace plumbline
{

using Json = nlohmann::ordered_json; // keeps the order of keys: `schema` stays first

/** Reads a JSON file that must carry a schema of ours, "plumbline/<kind>/<version>".

    Problems: cannot be read, is not JSON (with the place), has another schema, or one of a newer version. */
Result<Json> readJsonFile(const std::filesystem::path& file, const std::string& kind, int version);

/** The same from text that is already read; `where` names its source in the problems. */
Result<Json> jsonFromText(const std::string& text, const std::string& kind, int version,
                          const std::string& where);

/** Checks the key `schema` of a value that is already read. */
std::optional<Problem> schemaFault(const Json& value, const std::string& kind, int version,
                                   const std::string& where);

/** "plumbline/<kind>/<version>" */
std::string schemaName(const std::string& kind, int version);

/** Reads typed members of an object and remembers the first thing that is wrong, so that a reader can be
    written as a list of fields and asked once at the end. */
class JsonFields
{
public:
    JsonFields(const Json& object, std::string where);

    double number(const char* key, double least, double most);
    double numberOr(const char* key, double otherwise, double least, double most);
    /** A whole number, given back as the double that holds it exactly. */
    double whole(const char* key, double least, double most);
    std::size_t count(const char* key, std::size_t most);
    bool flagOr(const char* key, bool otherwise);
    std::string text(const char* key);
    std::string textOr(const char* key, std::string otherwise);
    /** A member that is an object or an array; an empty one if missing (and that is the fault, if required).
        */
    const Json& member(const char* key, bool required = true);
    bool has(const char* key) const;

    const std::optional<Problem>& fault() const noexcept { return first; }

    void complain(const std::string& what);

    const std::string& where() const noexcept { return place; }

private:
    const Json* find(const char* key, bool required);

    const Json& object;
    std::string place;
    std::optional<Problem> first;
};

/** Values as JSON, null where they are not known. */
Json knownValues(const std::vector<double>& values, const std::vector<bool>& known);

/** A file as text. Problems: a folder, missing, unreadable, over `mostBytes`. */
Result<std::string> readTextFile(const std::filesystem::path& file, std::size_t mostBytes);

}
