#include "Trial/Readings/Registry.h"

namespace plumbline
{

#define PLUMBLINE_READING(name) std::vector<Reading> name(const ReadingContext& context);

namespace readings
{
#include <plumbline/ReadingList.inc>
}

#undef PLUMBLINE_READING
#define PLUMBLINE_READING(name) &readings::name,

std::vector<Reading> allReadings(const ReadingContext& context)
{
    std::vector<Reading> all;
    for (const auto make : {
#include <plumbline/ReadingList.inc>
         })
        for (auto& reading : make(context))
            all.push_back(std::move(reading));
    return all;
}

}
