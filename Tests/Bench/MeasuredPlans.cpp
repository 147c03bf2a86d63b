#include "MeasuredPlans.h"

#include "Dsp/AlignedVector.h"
#include "Timing.h"

#include <complex>
#include <fftw3.h>

namespace plumbline::bench
{

namespace
{

/** As Dsp/Fft does: in place, on 64-byte boundaries. True if both directions have a plan. */
bool plan(std::size_t length, unsigned flags)
{
    AlignedVector<double> scratch(length + 2);
    auto* spectrum = reinterpret_cast<fftw_complex*>(scratch.data());
    const int n = static_cast<int>(length);
    const fftw_plan forward = fftw_plan_dft_r2c_1d(n, scratch.data(), spectrum, flags);
    const fftw_plan inverse = fftw_plan_dft_c2r_1d(n, spectrum, scratch.data(), flags);
    const bool both = forward != nullptr && inverse != nullptr;
    for (const fftw_plan made : { forward, inverse })
        if (made != nullptr)
            fftw_destroy_plan(made);
    return both;
}

}

void measurePlans(const std::string& file, const std::vector<std::size_t>& lengths)
{
    fftw_import_wisdom_from_filename(file.c_str()); // nothing is lost but time if there is none
    for (const auto length : lengths)
    {
        if (plan(length, FFTW_MEASURE | FFTW_WISDOM_ONLY))
            continue;
        const double seconds = timed([&] { plan(length, FFTW_MEASURE); });
        std::printf("  (measuring plans of %zu points took %.0f s; kept for the next run)\n", length,
                    seconds);
    }
    fftw_export_wisdom_to_filename(file.c_str());
}

}
