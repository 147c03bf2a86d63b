#include "Core/Problem.h"

namespace plumbline
{

std::string Problem::sentence() const
{
    std::string text = where.empty() ? what : where + ": " + what;
    if (!text.empty() && text.back() != '.')
        text += '.';
    if (!remedy.empty())
        text += ' ' + remedy + (remedy.back() == '.' ? "" : ".");
    return text;
}

}
