#pragma once

#include "Plugin/EditorInterface.h"

#include <cmath>
#include <functional>
#include <limits>

namespace plumbline::test
{

/** A response drawn by a formula, at the frequencies of every curve. */
inline FrequencyResponse drawnResponse(const std::function<double(double)>& levelDb,
                                       double knownFromHz = 20.0, double knownToHz = 20000.0)
{
    FrequencyResponse response;
    response.frequencyHz = curveFrequencies(20.0, 20000.0);
    for (const double f : response.frequencyHz)
    {
        response.levelDb.push_back(levelDb(f));
        response.known.push_back(f >= knownFromHz && f <= knownToHz);
        response.noiseDb.push_back(40.0 - 12.0 * std::log10(f / 20.0));
        response.sdDb.push_back(0.05);
    }
    return response;
}

/** A take of a pair, in dB SPL. */
inline std::shared_ptr<TakeCurves> drawnTake(FrequencyResponse left, FrequencyResponse right)
{
    auto take = std::make_shared<TakeCurves>();
    take->left = std::move(left);
    take->right = std::move(right);
    take->levelIsSpl = true;
    take->smoothing = "1/12 octave";
    return take;
}

/** Something like a room: hills and hollows, deeper at low frequencies.
    @param ripples of finer structure, dB */
inline std::function<double(double)> roomLike(double shift, double ripples = 0.0)
{
    return [=](double f)
    {
        const double octave = std::log2(f / 20.0);
        return 80.0 + 5.0 * std::sin(4.0 * octave + shift) / (0.5 + 0.3 * octave) +
               2.0 * std::sin(9.0 * octave + 2.0 * shift) - 0.5 * octave +
               ripples * std::sin(f / 13.0 + shift) * std::cos(f / 41.0);
    };
}

}
