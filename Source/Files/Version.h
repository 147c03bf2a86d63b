#pragma once

namespace plumbline
{

/** Version of the program, from the build. */
inline constexpr const char* programVersion = PLUMBLINE_VERSION;

}
