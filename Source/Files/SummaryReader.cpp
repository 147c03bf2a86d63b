#include "Files/SummaryReader.h"

#include <limits>

namespace plumbline
{

namespace
{

/** Takes what the parser of nlohmann-json meets, in the order of the file. */
class Taker : public nlohmann::json_sax<Json>
{
public:
    ParsedSummary read;
    std::string schema;
    bool sound = true;

    bool null() override { return number(std::numeric_limits<double>::quiet_NaN(), true); }

    bool boolean(bool value) override
    {
        if (depth == 1 && name == "levelIsSpl")
            read.summary.levelIsSpl = value;
        return true;
    }

    bool number_integer(number_integer_t value) override
    {
        if (depth == 1 && name == "analysisTime")
            read.analysisTime = value;
        return number(static_cast<double>(value), false);
    }

    bool number_unsigned(number_unsigned_t value) override
    {
        if (depth == 1 && name == "analysisTime")
            read.analysisTime = static_cast<std::int64_t>(value);
        if (depth == 1 && name == "analysisBytes")
            read.analysisBytes = value;
        return number(static_cast<double>(value), false);
    }

    bool number_float(number_float_t value, const string_t&) override { return number(value, false); }

    bool string(string_t& value) override
    {
        auto& summary = read.summary;
        if (inFaults && depth == 2 && !summary.faults.empty())
            return faultText(value);
        if (depth != 1)
            return true;
        if (name == "schema")
            schema = value;
        else if (name == "calibration")
            summary.calibration = value;
        else if (name == "smoothing")
            summary.smoothing = value;
        return true;
    }

    bool binary(binary_t&) override { return false; }

    bool start_object(std::size_t) override
    {
        ++depth;
        if (depth == 2 && inFaults)
            read.summary.faults.emplace_back();
        else if (depth == 2)
            side = name == "left"    ? &read.summary.left
                   : name == "right" ? &read.summary.right.emplace()
                                     : nullptr;
        return depth < 8;
    }

    bool end_object() override
    {
        if (--depth == 1)
            side = nullptr;
        return true;
    }

    bool start_array(std::size_t) override
    {
        inFaults = depth == 1 && name == "faults";
        curve = side == nullptr     ? nullptr
                : name == "levelDb" ? &side->levelDb
                : name == "noiseDb" ? &side->noiseDb
                : name == "sdDb"    ? &side->sdDb
                                    : nullptr;
        if (curve != nullptr)
            curve->reserve(512);
        return true;
    }

    bool end_array() override
    {
        inFaults = inFaults && depth > 1;
        if (curve != nullptr)
            curve->shrink_to_fit();
        curve = nullptr;
        return true;
    }

    bool key(string_t& value) override
    {
        name.swap(value);
        return true;
    }

    bool parse_error(std::size_t, const std::string&, const nlohmann::detail::exception&) override
    {
        return false;
    }

private:
    bool number(double value, bool absent)
    {
        if (curve != nullptr)
            curve->push_back(static_cast<float>(value));
        else if (absent)
            return true;
        else if (side != nullptr && name == "travelTimeSeconds")
            side->travelTimeSeconds = value;
        else if (side != nullptr && name == "polarity")
            side->polarity = value < 0.0 ? -1 : 1;
        else if (depth == 1 && name == "sampleRateHz")
            read.summary.sampleRateHz = value;
        else if (depth == 1 && name == "temperatureC")
            read.summary.temperatureC = value;
        else if (depth == 1 && name == "firstStep")
            read.summary.firstStep = value > -1e6 && value < 1e6 ? static_cast<int>(value) : 0;
        return true;
    }

    bool faultText(const std::string& value)
    {
        auto& fault = read.summary.faults.back();
        if (name == "code")
            fault.code = value;
        else if (name == "words")
            fault.words = value;
        else if (name == "severity")
            fault.severity = value == "doubt" ? Fault::Severity::doubt : Fault::Severity::note;
        return true;
    }

    std::string name;
    int depth = 0;
    bool inFaults = false;
    SideSummary* side = nullptr;
    std::vector<float>* curve = nullptr;
};

bool inStep(const SideSummary& side, std::size_t count)
{
    auto fits = [&](const std::vector<float>& curve) { return curve.empty() || curve.size() == count; };
    return side.levelDb.size() == count && fits(side.noiseDb) && fits(side.sdDb);
}

}

std::optional<ParsedSummary> parseSummary(const std::string& text)
{
    Taker taker;
    const bool whole = Json::sax_parse(text, &taker);
    auto& summary = taker.read.summary;
    const auto count = summary.left.levelDb.size();
    if (!whole || taker.schema != schemaName("summary", summarySchemaVersion) ||
        summary.sampleRateHz <= 0.0 || count == 0 || !inStep(summary.left, count) ||
        (summary.right && !inStep(*summary.right, count)))
        return std::nullopt;
    return std::move(taker.read);
}

}
