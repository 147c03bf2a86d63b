#include "Files/Json.h"

#include "Files/NumberText.h"

#include <cmath>
#include <fstream>

namespace plumbline
{

namespace fs = std::filesystem;

Result<std::string> readTextFile(const fs::path& file, std::size_t mostBytes)
{
    std::error_code error;
    auto problem = [&](const char* code, std::string what, std::string remedy) {
        return Problem{ code, std::move(what), file.string(), std::move(remedy) };
    };
    if (fs::is_directory(file, error))
        return problem("is-a-folder", "This is a folder, not a file", "Give a file");
    if (!fs::exists(file, error))
        return problem("missing", "There is no such file", "Check the name");
    if (!fs::is_regular_file(file, error))
        return problem("unreadable", "This is not a plain file", "Give a file");
    const auto size = fs::file_size(file, error);
    if (!error && size > mostBytes)
        return problem("too-large", "The file is too large to be one of this kind", "Check the name");
    std::ifstream stream(file, std::ios::binary);
    std::string text(error ? 0 : size, '\0');
    if (error || !stream || !stream.read(text.data(), static_cast<std::streamsize>(text.size())))
        return problem("unreadable", "The file cannot be read", "Check its permissions");
    return text;
}

std::string schemaName(const std::string& kind, int version)
{
    return "plumbline/" + kind + "/" + std::to_string(version);
}

std::optional<Problem> schemaFault(const Json& value, const std::string& kind, int version,
                                   const std::string& where)
{
    const auto wanted = schemaName(kind, version);
    const auto stem = "plumbline/" + kind + "/";
    if (!value.is_object() || !value.contains("schema") || !value["schema"].is_string())
        return Problem{ "no-schema", "This JSON does not say that it is \"" + wanted + "\"", where,
                        "Give another file" };
    const auto found = value["schema"].get<std::string>();
    if (found == wanted)
        return std::nullopt;
    const auto number = found.rfind(stem, 0) == 0 ? found.substr(stem.size()) : std::string();
    const bool digits =
        !number.empty() && number.size() < 9 && number.find_first_not_of("0123456789") == std::string::npos;
    if (digits && std::stoi(number) > version)
        return Problem{ "future-schema", "This file is \"" + found + "\", newer than this program knows",
                        where, "Use a newer Plumbline to read it" };
    return Problem{ "other-schema", "This file is \"" + found + "\" and not \"" + wanted + "\"", where,
                    "Give another file" };
}

Result<Json> readJsonFile(const fs::path& file, const std::string& kind, int version)
{
    constexpr std::size_t mostBytes = 64u << 20;
    const auto text = readTextFile(file, mostBytes);
    if (!text)
        return text.problem();
    return jsonFromText(*text, kind, version, file.string());
}

Result<Json> jsonFromText(const std::string& text, const std::string& kind, int version,
                          const std::string& where)
{
    try
    {
        auto value = Json::parse(text);
        if (auto fault = schemaFault(value, kind, version, where))
            return *fault;
        return value;
    }
    catch (const nlohmann::json::exception& error)
    {
        return Problem{ "not-json", std::string("This is not sound JSON (") + error.what() + ")", where,
                        "Give the file as it was written" };
    }
}

JsonFields::JsonFields(const Json& value, std::string where) : object(value), place(std::move(where))
{
    if (!object.is_object())
        complain("An object is wanted here");
}

void JsonFields::complain(const std::string& what)
{
    if (!first)
        first = Problem{ "damaged", what, place, "Give the file as it was written" };
}

const Json* JsonFields::find(const char* key, bool required)
{
    if (has(key))
        return &object.at(key);
    if (required)
        complain(std::string("\"") + key + "\" is missing");
    return nullptr;
}

bool JsonFields::has(const char* key) const
{
    return object.is_object() && object.contains(key) && !object.at(key).is_null();
}

double JsonFields::number(const char* key, double least, double most)
{
    const auto* value = find(key, true);
    if (value == nullptr)
        return least;
    const double number = value->is_number() ? value->get<double>() : std::nan("");
    if (number >= least && number <= most)
        return number;
    complain(std::string("\"") + key + "\" must be a number from " + exactText(least) + " to " +
             exactText(most));
    return least;
}

double JsonFields::numberOr(const char* key, double otherwise, double least, double most)
{
    return has(key) ? number(key, least, most) : otherwise;
}

double JsonFields::whole(const char* key, double least, double most)
{
    const double value = number(key, least, most);
    if (value != std::floor(value))
        complain(std::string("\"") + key + "\" must be a whole number");
    return value;
}

std::size_t JsonFields::count(const char* key, std::size_t most)
{
    return static_cast<std::size_t>(whole(key, 0.0, static_cast<double>(most)));
}

bool JsonFields::flagOr(const char* key, bool otherwise)
{
    if (!has(key))
        return otherwise;
    if (!object.at(key).is_boolean())
        complain(std::string("\"") + key + "\" must be true or false");
    return object.at(key).is_boolean() ? object.at(key).get<bool>() : otherwise;
}

std::string JsonFields::text(const char* key)
{
    const auto* value = find(key, true);
    if (value != nullptr && value->is_string())
        return value->get<std::string>();
    complain(std::string("\"") + key + "\" must be text");
    return {};
}

std::string JsonFields::textOr(const char* key, std::string otherwise)
{
    return has(key) ? text(key) : std::move(otherwise);
}

const Json& JsonFields::member(const char* key, bool required)
{
    static const Json nothing;
    const auto* value = find(key, required);
    return value == nullptr ? nothing : *value;
}

Json knownValues(const std::vector<double>& values, const std::vector<bool>& known)
{
    Json list = Json::array();
    for (std::size_t i = 0; i < values.size(); ++i)
        list.push_back(known[i] && std::isfinite(values[i]) ? Json(values[i]) : Json());
    return list;
}

}
