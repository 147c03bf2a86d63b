#pragma once

#include <cstddef>
#include <string>
#include <vector>

namespace plumbline::bench
{

/** Measures plans for Dsp/Fft's in-place transforms with no limit of time (half a minute for 2^19), so that
    Fft finds wisdom for them; what was measured is kept in a file and read back from it. To be called before
    Fft plans. */
void measurePlans(const std::string& file, const std::vector<std::size_t>& lengths);

}
