#include "Files/MaskFile.h"

#include "Files/Json.h"

namespace plumbline
{

namespace
{
constexpr double lowestHz = 1.0, highestHz = 1e6, mostDb = 200.0;

ToleranceMask::Point readPoint(JsonFields& fields)
{
    ToleranceMask::Point point;
    point.frequencyHz = fields.number("frequencyHz", lowestHz, highestHz);
    point.lowerDb = fields.number("lowerDb", -mostDb, mostDb);
    point.upperDb = fields.number("upperDb", -mostDb, mostDb);
    if (point.lowerDb > point.upperDb)
        fields.complain("\"lowerDb\" is above \"upperDb\"");
    return point;
}

void readPoints(JsonFields& fields, ToleranceMask& mask)
{
    const Json& list = fields.member("points");
    if (!list.is_array() || list.size() < 2)
        return fields.complain("\"points\" must be a list of two or more");
    for (std::size_t i = 0; i < list.size() && !fields.fault(); ++i)
    {
        JsonFields item(list[i], fields.where());
        const auto point = readPoint(item);
        const auto place = "point " + std::to_string(i + 1);
        if (item.fault())
            fields.complain(place + ": " + item.fault()->what);
        else if (!mask.points.empty() && point.frequencyHz <= mask.points.back().frequencyHz)
            fields.complain(place + " does not lie above the one before it");
        mask.points.push_back(point);
    }
}
}

Result<ToleranceMask> readMask(const std::filesystem::path& file)
{
    const auto value = readJsonFile(file, "mask", maskSchemaVersion);
    if (!value)
        return value.problem();
    JsonFields fields(*value, file.string());
    ToleranceMask mask;
    mask.name = fields.text("name");
    mask.source = fields.text("source");
    JsonFields mean(fields.member("mean"), file.string());
    mask.meanFromHz = mean.number("fromHz", lowestHz, highestHz);
    mask.meanToHz = mean.number("toHz", lowestHz, highestHz);
    if (mask.meanToHz < mask.meanFromHz)
        mean.complain("\"toHz\" lies under \"fromHz\"");
    readPoints(fields, mask);
    for (const auto* read : { &fields, &mean })
        if (read->fault())
            return *read->fault();
    return mask;
}

}
