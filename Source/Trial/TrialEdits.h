#pragma once

#include "Core/Result.h"
#include "Trial/Trial.h"

#include <functional>
#include <string>

namespace plumbline
{

/** The trial with a monitor added, or with the one of `formerName` changed. A new name is taken over by
    its stances and set-ups, so that takes stay with it. Problems: an empty name, a comma in it (it parts
    pair and orientation), a name that another has, a size that is not above 0, the kind changed where
    takes exist. */
Result<Trial> withMonitor(Trial trial, const std::string& formerName, const Monitor& monitor);

/** Gives stances other names, wherever the trial speaks of them. */
void renameStances(Trial& trial, const std::function<Stance(const Stance&)>& renamed);

/** The number of the set-up to which the next take of a stance belongs, if nobody lifted anything since: that
    of the newest take, if it was of this stance; otherwise the next one. */
int standingSetUp(const Trial& trial, const std::string& stance);

/** One more than the highest number among the set-ups of a stance. */
int nextSetUp(const Trial& trial, const std::string& stance);

}
