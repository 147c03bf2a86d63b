#pragma once

#include <string>

namespace plumbline
{

/** Something about a capture that its reader must know. A note explains; a doubt means: do not trust this
    blindly. What makes a capture useless is not a fault but a Problem. */
struct Fault
{
    enum class Severity
    {
        note,
        doubt
    };

    std::string code; ///< short and stable, for programs
    Severity severity = Severity::note;
    std::string words;

    bool operator==(const Fault&) const = default;
};

}
