#pragma once

#include "Dsp/AlignedVector.h"
#include "PracticeRoom/Scenario.h"

#include <cstddef>

namespace plumbline
{

/** Trains of pulses at any times between the points of a fine grid, with a strength of their own in each
    band.

    Each pulse is spread over `spreadPoints` points by a Kaiser-Bessel window, and the window is divided out
    of the spectrum afterwards (Jackson et al., IEEE Trans. Med. Imaging 10 (1991) 473), so that after
    division it is a pure delay. On a grid of twice the sample rate what is folded back stays 1e-5 of the
    pulse up to Nyquist. The bands of one grid point lie together, four by four, so that they are added as
    one vector. */
class BandPulses
{
public:
    static constexpr std::size_t lanes = 4; ///< bands in a group
    static constexpr std::size_t mostGroups = 3;
    static constexpr std::size_t spreadPoints = 6;
    static constexpr std::size_t oversampling = 2;

    /** Room for `points` grid points and groups * 4 bands, all silent. */
    BandPulses(std::size_t points, std::size_t groups);

    /** Where a pulse falls on the grid, and how it is spread there: the same for all of its bands. */
    struct Weights
    {
        std::size_t first;
        alignas(16) float values[spreadPoints];
    };

    /** `time` in grid points, between spreadPoints and points - spreadPoints. */
    static Weights weightsAt(double time) noexcept;

    /** Adds a pulse to one group of bands with the strengths `gains[0..3]`. */
    void add(std::size_t group, const Weights& weights, const float* gains) noexcept
    {
        float* at = memory.data() + (group * pointCount + weights.first) * lanes;
        for (std::size_t j = 0; j < spreadPoints; ++j)
            for (std::size_t lane = 0; lane < lanes; ++lane)
                at[j * lanes + lane] += weights.values[j] * gains[lane];
    }

    std::size_t points() const noexcept { return pointCount; }

    std::size_t groups() const noexcept { return groupCount; }

    /** Copies one band (0 .. groups * 4 - 1) to `out[0 .. points)`. */
    void copyBand(std::size_t band, double* out) const noexcept;

    /** Spectrum of the spreading window at `cycles` cycles a grid point, in closed form: what to divide by.
     */
    static double windowSpectrum(double cycles);

private:
    std::size_t pointCount, groupCount;
    AlignedVector<float> memory;
};

}
