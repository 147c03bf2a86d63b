#pragma once

#include <vector>

namespace plumbline
{

/** Something that wants to stand at a height, and how much room it takes from there downward, px. */
struct WantedPlace
{
    float y = 0.0f, room = 18.0f;
};

/** Where names stand so that none covers another and all together move least (isotonic regression by pooling
    neighbours; Barlow and others, 1972, from memory), then held between top and bottom.

    @param wanted from above
    @return their y, in the same order */
std::vector<float> pushedApart(const std::vector<WantedPlace>& wanted, float top, float bottom);

}
