#pragma once

#include "Trial/Comparison.h"

#include <string>
#include <vector>

namespace plumbline
{

/** [any] What the drivers' geometry has to say of each region of a comparison, in step with them: sentences where a pair
    on its side lies under the same pair upright near the dip that its two ways to the seat should make. Empty elsewhere,
    and where driver spacing, crossover, or how the pair stands (apart, distance) was not told. Drivers are taken to be
    at the height of the seat. Of curves that hold the room no more than a part is ever claimed. */
std::vector<std::string> regionCauses(const Comparison& comparison, const Trial& trial);

}
