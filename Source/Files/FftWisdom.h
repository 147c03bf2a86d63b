#pragma once

#include <cstddef>

namespace plumbline
{

/** [any but audio] Reads what FFTW learnt in earlier sessions from the user's settings, once a process; a
    file that does not fit is ignored and written anew the next time something is learnt. */
void recallTransforms();

/** [analysis] Measures plans of a length within a time limit, unless that was done before on this computer,
    and keeps what was learnt in the user's settings. Setting PLUMBLINE_SETTINGS moves the settings' folder.
    */
void learnTransform(std::size_t length, double limitSeconds);

}
