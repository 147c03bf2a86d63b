#pragma once

#include <string>

namespace plumbline
{

/** What went wrong, in words that a person can act on.

    `code` is a short stable name for programs ("not-a-wav"); `what` says what is wrong, `where` names the
    file, line or part concerned (may be empty), `remedy` says what to do about it (may be empty).
*/
struct Problem
{
    std::string code;
    std::string what;
    std::string where;
    std::string remedy;

    /** One sentence or two: "WHERE: WHAT. REMEDY." */
    std::string sentence() const;

    bool operator==(const Problem&) const = default;
};

}
