#pragma once

#include "Files/Json.h"

namespace plumbline
{

/** `fresh` with whatever else `stored` holds: keys of trial.json that this version does not use are another's, and
    stay. A key of our own that `fresh` leaves out is gone. */
Json withForeignKeys(const Json& stored, Json fresh);

}
