#include "Editor/LineEnds.h"

#include <algorithm>

namespace plumbline
{

namespace
{

/** Neighbours that stand as close as they may. */
struct Block
{
    float mean = 0.0f;
    int count = 1;
};

}

std::vector<float> pushedApart(const std::vector<WantedPlace>& wanted, float top, float bottom)
{
    std::vector<Block> blocks;
    std::vector<float> roomAbove;
    float above = 0.0f;
    for (const auto& each : wanted)
    {
        blocks.push_back({ each.y - above, 1 });
        while (blocks.size() > 1 && blocks[blocks.size() - 2].mean > blocks.back().mean)
        {
            const auto below = blocks.back();
            blocks.pop_back();
            auto& merged = blocks.back();
            const int count = merged.count + below.count;
            merged.mean = (merged.mean * static_cast<float>(merged.count) +
                           below.mean * static_cast<float>(below.count)) /
                          static_cast<float>(count);
            merged.count = count;
        }
        roomAbove.push_back(above);
        above += each.room;
    }
    std::vector<float> places;
    for (const auto& block : blocks)
        for (int i = 0; i < block.count; ++i)
            places.push_back(block.mean + roomAbove[places.size()]);
    // From below first, so that the top is kept where there is not room enough for all.
    float limit = bottom;
    for (auto i = places.size(); i-- > 0;)
    {
        places[i] = std::min(places[i], limit - (i + 1 < places.size() ? wanted[i].room : 0.0f));
        limit = places[i];
    }
    limit = top;
    for (std::size_t i = 0; i < places.size(); ++i)
    {
        places[i] = std::max(places[i], limit);
        limit = places[i] + wanted[i].room;
    }
    return places;
}

}
