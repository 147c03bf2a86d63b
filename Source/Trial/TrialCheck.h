#pragma once

#include "Core/Problem.h"
#include "Trial/Trial.h"

#include <optional>
#include <string>

namespace plumbline
{

/** What is wrong with a trial; nothing if it is sound: every name that is referred to is there, and there
    once; every figure is one; ids of takes can be names of folders.

    Problems: "two-of-a-name", "not-listed", "take-id", "figure", "placement", "weight", "choice". */
std::optional<Problem> faultOf(const Trial& trial);

/** Of one part alone. Problems: "placement" / "weight" / "figure". */
std::optional<Problem> faultOf(const StancePlacement& placement);
std::optional<Problem> faultOf(const std::map<std::string, double>& weights);
std::optional<Problem> faultOfTemperature(const std::optional<double>& temperatureC);

/** Of a choice in a trial. Problems: "not-listed": the stance or the take is not there; "choice": no date,
    a trim that is no figure, a take of another stance. */
std::optional<Problem> faultOf(const Choice& choice, const Trial& trial);

/** Whether a text can be the name of a folder of our own: letters, digits, blanks and the like, no way
    out. */
bool isPlainName(const std::string& name);

}
