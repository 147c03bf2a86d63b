#include "Files/ForeignKeys.h"

#include <map>
#include <set>
#include <string>

namespace plumbline
{

namespace
{

/** Keys of ours that can be absent: their absence says something. */
bool isOurs(const std::string& key)
{
    static const std::set<std::string> keys{
        "widthCm",   "heightCm",   "depthCm",      "driverSpacingCm", "crossoverHz",   "wooferCm",
        "rightCm",   "backCm",     "upCm",         "discarded",       "temperatureC",  "microphone",
        "placement", "placements", "weights",      "choice",          "referenceTake", "trimDb",
        "apartCm",   "distanceCm", "toeInDegrees", "discardedBecause"
    };
    return keys.contains(key);
}

/** Their keys are names that the user gave: what is not in the new one is gone. */
bool hasFreeKeys(const std::string& key)
{
    return key == "weights" || key == "placements";
}

/** Name or id by which an item of a list is known; empty if it has none. */
std::string keyOf(const Json& item)
{
    for (const char* key : { "id", "name" })
        if (item.is_object() && item.contains(key))
            return item[key].dump(-1, ' ', false, Json::error_handler_t::replace);
    return {};
}

Json merged(const Json& stored, Json fresh);

using Known = std::map<std::string, const Json*>;

void index(const Json& list, Known& known)
{
    if (list.is_array())
        for (const auto& item : list)
            if (const auto key = keyOf(item); !key.empty())
                known.emplace(key, &item);
}

void mergeList(const Known& known, Json& fresh)
{
    for (auto& item : fresh)
        if (const auto old = known.find(keyOf(item)); old != known.end())
            item = merged(*old->second, std::move(item));
}

Json merged(const Json& stored, Json fresh)
{
    if (stored.is_object() && fresh.is_object())
        for (const auto& item : stored.items())
        {
            const auto& key = item.key();
            if (!fresh.contains(key))
            {
                if (!isOurs(key))
                    fresh[key] = item.value();
            }
            else if (!hasFreeKeys(key) && key != "takes" && key != "discarded")
                fresh[key] = merged(item.value(), std::move(fresh[key]));
        }
    if (stored.is_array() && fresh.is_array())
    {
        Known known;
        index(stored, known);
        mergeList(known, fresh);
    }
    return fresh;
}

}

Json withForeignKeys(const Json& stored, Json fresh)
{
    fresh = merged(stored, std::move(fresh));
    Known takes; // a take keeps its own wherever it is
    for (const char* list : { "takes", "discarded" })
        if (stored.is_object() && stored.contains(list))
            index(stored.at(list), takes);
    for (const char* list : { "takes", "discarded" })
        if (fresh.contains(list))
            mergeList(takes, fresh[list]);
    return fresh;
}

}
